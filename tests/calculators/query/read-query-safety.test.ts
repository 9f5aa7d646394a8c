/** What holds for any line: nothing comes from nowhere, an unknown word changes nothing, and a "no" never makes a "yes". */
import { existsSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { convert } from '../../../calculators/quantity.ts';
import { visitOf } from '../../../calculators/query/read-query.ts';
import { samples } from '../../samples.ts';
import { measures } from '../evaluate/setup.ts';
import { asVisit, linesOf, read, said, vocabulary } from './lines.ts';

const open = linesOf('lines-safety');
const { signs: signWords, signsInDisease, supports: supportWords } = vocabulary;
const runs = samples(1000, 100_000);
/** A hundred thousand lines take minutes. */
const long = 900_000;

/** Written by hand, not taken from the reader's own tables: a token that must be in the line for a sign to come out of it. */
const signTokens: Record<string, RegExp> = {
  'sleep-related-respiratory-symptoms': /symptom|sx|complaint|issue|concern|problem/,
  'symptoms-or-signs-of-respiratory-impairment': /symptom|sx|complaint|issue|concern|problem/,
  'new-drowsiness-or-confusion':
    /drow|drwo|sleep|letharg|somno|wake|rous|respond|respons|conscious|coma|confus|muddl|orient|alert|floppy|deliri|headache|gcs|glassy|woozy|zoned|out of it|blackout/,
  confusion: /confus|muddl|orient/,
  'daytime-sleepiness': /sleep|drow|drwo|doz|nod|nap|eds|somno/,
  // 'ha' and 'h/a' are a headache in American notes.
  'morning-headache': /head|h[/-]?a/,
  'bulbar-dysfunction':
    /swal|phag|slur|arthr|voice|speech|speak|talk|bulbar|nose|nasal|aspir|chok|food|drink|saliva|spit|drool|drib|sialo/,
  'mg-with-breathing-or-bulbar-symptoms': /mg|myas/,
  sialorrhoea: /saliva|spit|drool|drib|sialo/,
  'thick-tenacious-saliva': /thick|sticky/,
  'airway-blocked-by-secretions-not-cleared': /chok|block|plug|clear|shift|phlegm|secretion|suction/,
  'waking-breathless-or-choking': /wak|wok|night/,
  'respiratory-infection': /infect|cold|chest|pneum|bronch|flu|covid|rsv|rti|sputum|phlegm/,
  // 'd v', 'd+v' and 'd/v' are diarrhoea and vomiting: letters that come at random, too, and with any sign between them.
  'acutely-unwell':
    /well|ill|sick|poorly|fever|febrile|sep|vomit|(?<![a-z0-9])d[^a-z0-9]*(?:and)?[^a-z0-9]*v(?![a-z0-9])|blue|gr[ae]y|cyan|dusky|mottled|ashen|headache|deterior|temp|sat|spo2|oxygen|o2|slow|colou?r|off|right|good|bp|blood pressure/,
  // 'doe': dyspnoea on exertion
  breathlessness: /breath|sob|dyspn|air|wind|puff|doe/,
  orthopnoea: /orthop|flat|supine|pillow|lying|lie|chair|upright|recliner/,
  'breathing-worse-in-days': /breath|sob|dyspn|air/,
  'worsening-respiratory-impairment': /breath/,
  'unable-to-speak-in-sentences-or-accessory-muscle-use-at-rest':
    /breath|gasp|distress|work|labou?r|sob|apn|dyspn|arrest|wob|air/,
  'newly-unable-to-speak-in-sentences': /sentence|word|talk|speak|phrase/,
  'new-accessory-muscle-use-at-rest': /retract|recess|suck|draw|flar|grunt|bob|tug|muscle|pull|cav/,
  'accessory-muscle-use': /muscle/,
  'abdominal-paradox': /saw|paradox|belly|abdom/,
  'fast-breathing': /breath|tachy|pant|resp/,
  'weak-cough': /cough/,
  'vc-rapid-significant-fall': /vc|vital|spiro/,
  'ineffective-cough': /cough|clear|shift|phlegm|sputum|secretion|mucus|suction/,
  'sputum-retention': /phlegm|sputum|secretion|mucus|rattl|chest|gurgl|wet/,
  'child-work-of-breathing-changed':
    /retract|recess|suck|draw|flar|grunt|bob|tug|muscle|saw|paradox|breath|work|sob|air|gasp|tachy|dyspn/,
  'child-feeding-or-cry-changed': /feed|bottle|milk|suck|cry|eat|food|appetite/,
  'child-colour-changed': /blue|gr[ae]y|cyan|pale|pall|dusky|mottled|ashen/,
  'child-less-alert':
    /drow|drwo|sleep|floppy|alert|wake|rous|letharg|confus|respons|respond|conscious|coma|muddl|deliri|somno|orient/,
  'ventilator-failure-in-dependent-person': /power|electric|mains|blackout|vent|machine|niv|respirator|level/,
  'suspected-crisis': /crisis/,
  'rapid-progression': /weak|paraly|rapid|downhill|deterior/,
  'clinical-deterioration': /weak|deterior|downhill/,
  'bifacial-weakness': /face|facial|eye/,
  dysautonomia: /autonom|pulse|bp|blood|heart/,
  // 'not sniff 38 mg/kg': the dose is no number of a sniff, and 'not sniff' is read as one that cannot be done.
  'weak-sniff': /sniff/,
  fatigue: /tired|fatigu|exhaust|energy|worn/,
  'supplemental-oxygen-without-ventilation': /o2|oxygen|concentrator|ltot|\bl\b|lpm|litre|liter|prong|cannula|nasal/,
  'nocturnal-oxygen-without-niv': /o2|oxygen|concentrator|\bl\b|lpm|litre|liter/,
  'non-ambulant': /walk|wheel|ambul/,
};

/** Names that a measure must have in the line, by hand; a measure that is not here must not come out of these words. */
const measureTokens: Record<string, RegExp> = {
  'base-excess': /be|base/,
  ahi: /ahi/,
  spo2: /sat|spo|so2|sao2|oximet|ox|o2|oxygen/,
  paco2: /co2|gas|\d\s*\/\s*\d|7[.,]/,
  'awake-co2-any-method': /co2|tidal|skin|capno/,
  bicarbonate: /bicarb|hco3|\d\s*\/\s*\d|7[.,]/,
  'fvc-percent': /vc|vital|spiro/,
  'vc-litres': /vc|vital|spiro/,
  'vc-per-kilogram': /vc|vital|spiro/,
  'fvc-supine-percent': /vc|vital|spiro/,
  'vc-litres-supine': /vc|vital|spiro/,
  snip: /sni|snp/,
  mip: /mip|nif|imax/,
  'mip-percent-predicted': /mip|nif|imax/,
  'peak-cough-flow': /pcf|cpf|cough/,
  'respiratory-rate': /r\.?r|resp|breath/,
  'oxygen-flow': /o2|oxygen|\bl\b|lpm|litre/,
  'niv-hours': /niv|hours/,
  weight: /weigh|wt|wght|kg|kilo|lb|pound|#|\d\s*st(?:one)?s?\s*\d/,
  'usual-weight': /usual|normal/,
  'single-breath-count': /count|sbc/,
  'mi-e-peak-cough-flow': /mi-?e/,
  mep: /mep|emax/,
  'weight-loss-percent': /weigh/,
  'fvc-drop-supine-percent': /vc|vital|supine|spiro/,
  'vc-or-mip-or-mep-fall-from-baseline-percent': /vc|mip|vital|nif|spiro/,
  'snip-or-mip-fall-per-3-months': /sni|mip|nif/,
  'snip-relative-fall-per-3-months': /sni/,
  'paco2-overnight-rise': /co2|gas/,
  'tcco2-night-rise': /co2|gas/,
  'tcco2-or-etco2-peak-rise': /co2|gas/,
};

const said1 =
  'sats 91|spo2 88 %|co2 58|pco2 7.8 kpa|7.31 / 58 / 32|ph 7.31|fvc 48|vc 1.9 l|vc 14 ml/kg|sniff 38|mip -35|nif 20|pcf 160|rr 30|bicarb 31|weight 60|niv 14 h'.split(
    '|',
  );
const words =
  'drowsy|sleepy by day|headache|morning headache|choking|drooling|cannot swallow|trouble swallowing|swallow|slurred speech|cold|chest infection|fever|unwell|short of breath|air hunger|breathless flat|orthopnoea|3 pillows|cannot finish sentences|weak cough|phlegm stuck|cannot clear secretions|breathing fast|grey|blue lips|blue badge|retractions|see-saw|poor feeding|weak cry|floppy|pale|ventilator stopped|power cut|crisis|weaker today|face weak|pulse unstable|tired|wheelchair|als|mg|gbs|acute sci|dmd 14|sma|duchenne|62 yo|boy 8|baby|woman|not male|height 158|158 cm|on air|room air|on oxygen|on 2 l|off oxygen|on niv|no niv|declined niv|night oxygen|air stacking|travel by air|no|not|denies|without|never|no longer|or|and|but|,|;|:|zzyzx|quux|the|his|12|48|7.31|120/80|1,900|below|at night|overnight|lying flat|supine|dropped|to|from|for 3 months|2 years ago|%|l|kpa|mg/kg|5 mg|hr 110|ipap 18|day 4|then|was|now|over 6 months|3 months ago|in june|in jan|last year|down 12 points|fell 15|asleep|awake|sitting|lying|what|which|when|mask leak|vent alarm|flying|drwosy|headahce|3 years|since'.split(
    '|',
  );
const line = fc
  .array(
    fc.oneof({ weight: 4, arbitrary: fc.constantFrom(...words) }, { weight: 1, arbitrary: fc.constantFrom(...said1) }),
    {
      maxLength: 10,
    },
  )
  .map((parts) => parts.join(' '));
const anything = fc.oneof(line, fc.string({ unit: 'grapheme', maxLength: 60 }), fc.string({ maxLength: 60 }));

describe('any line', () => {
  test(
    'throws nothing, and a sign has a token of its own in the line',
    () => {
      fc.assert(
        fc.property(anything, (typed) => {
          const visit = asVisit(read(typed));
          if (!visit) return;
          const lower = typed
            .normalize('NFKD')
            .normalize('NFKD')
            .replace(/\p{Mn}/gu, '')
            .toLowerCase();
          for (const id of Object.keys(visit.signs)) {
            expect(measures[id]?.kind, id).toBe('sign');
            const tokens = signTokens[id];
            if (!tokens) throw new Error(`"${typed}" says ${id}, which no word here stands for`);
            expect(tokens.test(lower), `${id} from "${typed}"`).toBe(true);
          }
        }),
        runs,
      );
    },
    long,
  );

  test(
    'a reading has its name, or a gas in its order, and its number in the line',
    () => {
      fc.assert(
        fc.property(anything, (typed) => {
          const visit = asVisit(read(typed));
          if (!visit) return;
          const lower = typed
            .normalize('NFKD')
            .normalize('NFKD')
            .replace(/\p{Mn}/gu, '')
            .toLowerCase();
          const options = [...visit.parts, ...visit.asks.flatMap((ask) => ask.options)];
          for (const one of options) {
            if (one.kind !== 'reading') continue;
            const measure = measures[one.measure];
            if (measure?.kind !== 'number') throw new Error(`${one.measure} is no number`);
            expect((measureTokens[one.measure] ?? /^\b$/).test(lower), `${one.measure} from "${typed}"`).toBe(true);
            expect(lower).toMatch(new RegExp(String(Math.abs(one.reading.value)).replace('.', '[.,]')));
            const held = convert(one.reading.value, one.reading.unit, measure.unit);
            expect(held >= measure.hard[0] - 1e-9 && held <= measure.hard[1] + 1e-9).toBe(true);
          }
          for (const { measure, values } of visit.series ?? []) {
            expect((measureTokens[measure] ?? /^\b$/).test(lower), `${measure} from "${typed}"`).toBe(true);
            for (const value of values) expect(lower).toMatch(new RegExp(String(Math.abs(value)).replace('.', '[.,]')));
          }
          for (const { measure, reading } of visit.asleep ?? []) {
            expect((measureTokens[measure] ?? /^\b$/).test(lower), `${measure} from "${typed}"`).toBe(true);
            expect(visit.readings[measure]).not.toBe(reading);
          }
          if (visit.person.ageYears !== undefined) expect(lower).toMatch(/\d|baby|infant|newborn|neonate/);
          if (visit.person.heightCm !== undefined) expect(lower).toMatch(/\d/);
        }),
        runs,
      );
    },
    long,
  );

  test(
    'oxygen, ventilation and air come from a word that says so',
    () => {
      fc.assert(
        fc.property(line, (typed) => {
          for (const { reading } of asVisit(read(typed))?.parts ?? []) {
            if (reading.gas === 'air') expect(typed).toMatch(/air|oxygen|2 l/);
            if (reading.gas === 'oxygen') expect(typed).toMatch(/oxygen|2 l/);
            if (reading.gas === 'ventilation') expect(typed).toMatch(/niv/);
          }
        }),
        samples(1000, 20_000),
      );
    },
    long,
  );
});

describe('a word that nobody knows', () => {
  const strange = ['zzyzx', 'quuxly', 'blorptang', 'wibbleish'];
  const places = [
    (line: string, word: string) => `${line} ${word}`,
    (line: string, word: string) => `${word} ${line}`,
    (line: string, word: string) => `${line}, ${word}`,
    (line: string, word: string) => `${word}, ${line}`,
  ];
  test('is listed, and changes nothing else', () => {
    for (const [index, { line, kind }] of open.entries()) {
      if (kind === 'sum' || kind === 'none' || kind === 'hint') continue;
      const { assumes, understands, hints: _, not = [], asked = [], ...before } = said(line);
      for (const place of places) {
        const word = strange[index % strange.length] ?? '';
        const after = said(place(line, word));
        // In a question it is looked up.
        const { not: left = [], asked: lookedUp = [], assumes: __, understands: ___, hints: ____, ...rest } = after;
        expect([place(line, word), rest]).toEqual([place(line, word), before]);
        expect([place(line, word), [...left, ...lookedUp].sort()]).toEqual([
          place(line, word),
          [...not, ...asked, word].sort(),
        ]);
        expect(after.assumes).toBe(assumes);
        expect(after.understands).toBe(understands);
      }
    }
  });
});

describe('a word that nobody knows, anywhere at the end of a clause', () => {
  const word = fc.stringMatching(/^zq[bdfgkpvwxz]{4,8}$/);
  const withoutWords = (typed: string) => {
    const { not, asked, assumes, understands, hints, ...rest } = said(typed);
    return { rest, left: [...(not ?? []), ...(asked ?? [])].sort(), understands };
  };
  const classes = linesOf('lines-classes').map((entry) => entry.line);
  test(
    'changes nothing else in a line of the corpora',
    () => {
      fc.assert(
        fc.property(fc.constantFrom(...classes, ...open.map((entry) => entry.line)), word, (typed, strange) => {
          const before = withoutWords(typed);
          for (const text of [`${typed}, ${strange}`, `${strange}, ${typed}`, `${typed} ${strange}`]) {
            const after = withoutWords(text);
            expect([text, after.rest]).toEqual([text, before.rest]);
            expect([text, after.understands]).toEqual([text, before.understands]);
          }
        }),
        samples(1000, 20_000),
      );
    },
    long,
  );
  test(
    'changes nothing else in a random line, after a comma',
    () => {
      fc.assert(
        fc.property(line, word, (typed, strange) => {
          const { rest } = withoutWords(`${typed}, ${strange}`);
          expect([typed, rest]).toEqual([typed, withoutWords(`${typed}, `).rest]);
        }),
        samples(1000, 20_000),
      );
    },
    long,
  );
});

describe('a negation', () => {
  const phrases = words.filter((typed) => {
    const visit = asVisit(read(`als ${typed}`));
    return visit !== undefined && Object.values(visit.signs).includes('present');
  });
  const negations = [
    'no',
    'not',
    'denies',
    'denies any',
    'without',
    'never',
    'no longer',
    'no sign of',
    "isn't",
    "hasn't had",
  ];
  test('before a sign never makes it present, alone or beside others', () => {
    expect(phrases.length).toBeGreaterThan(25);
    for (const phrase of phrases)
      for (const negation of negations)
        for (const text of [`als ${negation} ${phrase}`, `als fvc 48, ${negation} ${phrase}, sats 97 on air`]) {
          // 'not poor feeding' and 'no weak cry' still name a child; what counts is the sign.
          const present = Object.entries(asVisit(read(text))?.signs ?? {}).filter(([, sign]) => sign === 'present');
          expect([text, present]).toEqual([text, []]);
        }
  });
  test('after it, with a colon, neither', () => {
    for (const phrase of phrases)
      for (const text of [`als ${phrase}: no`, `als ${phrase}? no`, `als ${phrase} - none`]) {
        const present = Object.entries(asVisit(read(text))?.signs ?? {}).filter(([, sign]) => sign === 'present');
        expect([text, present]).toEqual([text, []]);
      }
  });
  test('ends at a comma, at but, at a full stop and at a word that is not about it', () => {
    for (const phrase of phrases.filter((one) => !/tired|wheelchair|saliva/.test(one)))
      for (const text of [
        `als no nightmares, ${phrase}`,
        `als no nightmares but ${phrase}`,
        `als no nightmares. ${phrase}`,
        `als no visitors ${phrase}`,
        `als no nightmares and ${phrase}`,
      ])
        expect([text, Object.values(asVisit(read(text))?.signs ?? {}).includes('present')]).toEqual([text, true]);
  });
  test('goes on over or', () => {
    for (const phrase of phrases) {
      const signs = asVisit(read(`als no nightmares or ${phrase}`))?.signs ?? {};
      expect([phrase, Object.values(signs).includes('present')]).toEqual([phrase, false]);
    }
  });
  test('of oxygen and of support', () => {
    for (const typed of [
      'not on oxygen',
      'off oxygen',
      'without oxygen',
      'no oxygen',
      'no longer on oxygen',
      'oxygen off',
      'never on oxygen',
      "isn't on o2",
    ]) {
      const visit = asVisit(read(`sats 88 ${typed}`));
      expect([typed, visit?.readings.spo2?.gas, visit?.signs]).toEqual([typed, 'air', {}]);
    }
    for (const { words: pattern, decision } of supportWords.filter((one) => one.decision !== 'dependency')) {
      const name =
        pattern
          .split('|')[0]
          ?.replace(/\(\?:[^)]*\)\??/g, '')
          .replaceAll('[- ]{0,2}', ' ') ?? '';
      for (const typed of [`no ${name}`, `not on ${name}`, `no longer uses ${name}`, `without ${name}`])
        expect([typed, asVisit(read(`als ${typed}`))?.supports]).toEqual([typed, { [decision]: 'none' }]);
    }
  });
});

describe('the order of the clauses', () => {
  const clauses = [
    'als',
    'sats 91 on air',
    'drowsy',
    'no headache',
    'fvc 48',
    'not on niv',
    '62 yo',
    'woman',
    'weak cough',
    'ph 7.31',
    'height 158',
    'sniff 38',
    'mip 60 52 45 over 6 months',
    'tcco2 56 asleep',
    'mask leak',
    'vc 3.1 sitting 2.5 lying',
  ];
  test('changes nothing', () => {
    fc.assert(
      fc.property(fc.shuffledSubarray(clauses, { minLength: 3 }), (some) => {
        const plain = clauses.filter((one) => some.includes(one)).join(', ');
        const { assumes: _, understands: __, hints: _____, ...first } = said(plain);
        const { assumes: ___, understands: ____, hints: ______, ...second } = said(some.join(', '));
        expect([some.join(', '), second]).toEqual([some.join(', '), first]);
      }),
      { numRuns: 500 },
    );
  });
});

describe('the word tables', () => {
  test('name only signs and measures that there are', () => {
    const ids = [
      ...signWords.flatMap(({ yes, no = [], child }) => [...yes, ...no, ...(child?.yes ?? []), ...(child?.no ?? [])]),
      ...signsInDisease.flatMap(({ of, yes }) => [...of, yes]),
    ];
    expect(ids.filter((id) => measures[id]?.kind !== 'sign')).toEqual([]);
  });
});

test('a visit can be handed to the evaluator as it is', () => {
  const query = read('mg nif -20 trouble with saliva, on niv, 62 yo woman, height 158');
  if (query?.kind !== 'visit') throw new Error(JSON.stringify(query));
  expect(visitOf(query)).toEqual({
    disease: 'mg',
    ageYears: 62,
    sex: 'female',
    heightCm: 158,
    readings: { mip: { value: 20, unit: 'cm[H2O]' } },
    signs: {
      sialorrhoea: 'present',
      'bulbar-dysfunction': 'present',
      'mg-with-breathing-or-bulbar-symptoms': 'present',
    },
    supports: { 'night-ventilation': 'in-place' },
  });
  const alone = read('fvc 48 als');
  if (alone?.kind !== 'reading') throw new Error(JSON.stringify(alone));
  expect(visitOf(alone)).toEqual({ disease: 'als', readings: { 'fvc-percent': { value: 48, unit: '%' } }, signs: {} });
});

test('each page that the words lead to is there', () => {
  const led = signWords.flatMap(({ danger }) => (danger === undefined ? [] : [danger]));
  expect(led.length).toBeGreaterThan(3);
  expect(led.filter((page) => !existsSync(`content/handbook${page.slice(0, -1)}.mdx`))).toEqual([]);
});
