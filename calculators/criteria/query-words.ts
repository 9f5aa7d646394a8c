/** The words of the trade that a typed line may hold beside a measure's name and its number. Lower case, without accents. */
import type { Interface } from '../oxygen/interfaces.ts';
import type { UnitCode } from '../quantity.ts';
import type { Disease } from './diseases.ts';
import type { Reading } from './visit.ts';

/** The narrower word first: an acute injury is not a chronic one. */
export const diseaseWords: readonly [RegExp, Disease][] = [
  [/\bacute (?:sci|(?:spinal )?cord injury|tetraplegi[ac])\b/, 'sci-acute'],
  [/\b(?:als|mnd|motor neuron(?:e)?(?: disease)?|amyotrophic lateral sclerosis)\b/, 'als'],
  [/\b(?:dmd|duchenne)\b/, 'dmd'],
  [/\b(?:sma|spinal muscular atrophy)\b/, 'sma'],
  [/\b(?:dm1|myotonic(?: dystrophy)?|steinert)\b/, 'dm1'],
  [/\b(?:pompe|lopd|acid maltase)\b/, 'pompe'],
  [/\b(?:(?:post[- ]?)?polio|pps)\b/, 'post-polio'],
  [/\b(?:fshd|facioscapulohumeral)\b/, 'fshd'],
  [/\b(?:lgmd|limb[- ]girdle)\b/, 'lgmd'],
  [/\b(?:cmd|congenital muscular dystrophy)\b/, 'cmd'],
  [/\b(?:gbs|guillain(?:[- ]barre?)?)\b/, 'gbs'],
  [/\b(?:mg|myasthen\w*(?: gravis)?)\b/, 'mg'],
  [/\b(?:sci|(?:spinal )?cord injury|tetraplegi[ac]|quadriplegi[ac])\b/, 'sci'],
  [/\b(?:becker|nemaline|cmt|charcot[- ]marie[- ]tooth|myopathy)\b/, 'other-chronic'],
];

const flow = String.raw`\d+(?:[.,]\d+)? ?(?:lpm|l(?:it(?:re|er)s?)?(?: ?(?:\/|per) ?min(?:ute)?)?)(?![a-z])`;
const prongs = String.raw`nasal (?:can+ul\w*|prongs?|spec\w*)|can+ul\w*|prongs?|nasal(?! (?:mask|pillow))|n\/?c|n\/?p`;
const oxygen = '(?:o2|oxygen)';

/** What was breathed. A flow of oxygen belongs to this and is not the reading. */
export const gasWords: readonly [RegExp, NonNullable<Reading['gas']>][] = [
  [/\bon (?:niv|(?:the )?ventilat\w*|vent|bilevel|bi-level|mask ventilation)\b/, 'ventilation'],
  [new RegExp(String.raw`\bon ${flow}(?: (?:of )?${oxygen})?(?: (?:by |via |on )?(?:${prongs}|mask))?`), 'oxygen'],
  [new RegExp(String.raw`\b${flow} (?:of )?(?:${oxygen}\b|(?:${prongs})(?![a-z]))`), 'oxygen'],
  [new RegExp(String.raw`\bon (?:\d+(?:[.,]\d+)? )?(?:${oxygen}\b|(?:${prongs})(?![a-z]))`), 'oxygen'],
  [/\b(?:on |in |breathing )?(?:room[- ]?)?air\b|\bra\b/, 'air'],
];

export const gasSaid: Record<NonNullable<Reading['gas']>, string> = {
  air: 'on air',
  oxygen: 'on oxygen',
  ventilation: 'on ventilation',
};

/** How a gas was taken. A method that a mark does not allow makes it a 'cannot tell', so it is never dropped. */
export const methodWords: readonly [RegExp, string][] = [
  [/\b(?:vbg|venous)\b/, 'venous'],
  [/\b(?:cbg|capillary|ear ?lobe)\b/, 'capillary'],
  [/\b(?:p?etco2|end[- ]tidal|capnogra\w*)\b/, 'end-tidal'],
  [/\b(?:p?tcco2|ptcco2|transcutaneous)\b/, 'transcutaneous'],
  [/\b(?:abg|arterial)\b/, 'arterial'],
];

/** Ways a test goes wrong, by the flag they set on a measure that has it. 'No leak' sets none. */
export const flagWords: readonly [RegExp, readonly string[]][] = [
  [/(?<!\bno |without )\b(?:leak\w*)\b/, ['leak', 'plug-leak']],
  [/\b(?:poor|weak|sub-?maximal|not full|half) effort\b|\bpoor technique\b/, ['poor-effort']],
  [/(?<!\bnot )\b(?:tired|fatigued|exhausted)\b/, ['tired']],
  [/\b(?:unwell|ill|sick|with a cold)\b/, ['unwell']],
  [/\b(?:blocked nose|congested|stuffy nose)\b/, ['blocked-nose']],
  [/\b(?:poor|bad) (?:trace|signal)\b/, ['poor-trace']],
  [/\bcold (?:hands?|fingers?)\b/, ['cold-hand']],
  [/\bnail (?:varnish|polish)\b|\bfalse nails?\b/, ['nail-varnish']],
  [/\b(?:walking|exertion|exercis\w*|moving|after a transfer)\b/, ['not-rested', 'just-moved']],
  [/\b(?:just off|just taken off) (?:niv|the mask|ventilat\w*)\b/, ['just-off-niv']],
];

export const interfaceWords: readonly [RegExp, Interface][] = [
  [/\b(?:venturi\w*|ventury|venti(?:mask)?|air[- ]entrainment)(?: mask| valve)?\b/, 'venturi'],
  [/\b(?:non[- ]?re-?breath\w*|nrbm?|nrm|reservoir)(?: (?:mask|bag))*\b/, 'reservoir-mask'],
  [/\b(?:trach\w*) ?(?:mask|collar)\b/, 'tracheostomy-mask'],
  [/\bsimple(?: face)? ?mask\b/, 'simple-mask'],
  [new RegExp(String.raw`\b(?:${prongs})(?![a-z])`), 'cannula'],
];

export const interfaceNames: Record<Interface, string> = {
  cannula: 'Nasal cannula',
  'simple-mask': 'Simple mask',
  'reservoir-mask': 'Reservoir mask',
  venturi: 'Venturi valve',
  'tracheostomy-mask': 'Tracheostomy mask',
};

/** Directly after a number; the longer spelling first. */
export const unitWords: readonly [RegExp, UnitCode][] = [
  [/^ ?(?:l(?:it(?:re|er)s?)? ?(?:\/|per|a) ?s(?:ec(?:ond)?)?s?|lps)(?![a-z])/, 'L/s'],
  [/^ ?(?:l(?:it(?:re|er)s?)? ?(?:\/|per|a) ?m(?:in(?:ute)?)?s?|l ?min|lpm)(?![a-z])/, 'L/min'],
  [/^ ?(?:mls?|cc) ?(?:\/|per) ?kg(?![a-z])/, 'mL/kg'],
  [/^ ?mls? ?(?:\/|per) ?min(?![a-z])/, 'mL/min'],
  [/^ ?cms? ?(?:h2o|of water|water|w)?(?![a-z\d])/, 'cm[H2O]'],
  [/^ ?(?:mm ?hg|torr|mm)(?![a-z])/, 'mm[Hg]'],
  [/^ ?kpa(?![a-z])/, 'kPa'],
  [/^ ?(?:mmols?|m?eq)(?: ?(?:\/|per) ?l)?(?![a-z])/, 'mmol/L'],
  [/^ ?(?:%|per ?cent)(?: (?:of )?pred(?:icted)?(?![a-z]))?/, '%'],
  [/^ ?(?:\/ ?min|bpm|breaths?(?: ?(?:\/|a|per) ?min(?:ute)?)?|(?:a|per) min(?:ute)?)(?![a-z])/, '/min'],
  [/^ ?(?:(?:events? ?)?(?:\/ ?h(?:our|r)?|(?:an|per) hour))(?![a-z])/, '/h'],
  [/^ ?h(?:(?:ou)?rs?)?(?: ?(?:\/|a|per) ?d(?:ay)?)?(?![a-z])/, 'h'],
  [/^ ?min(?:ute)?s?(?![a-z])/, 'min'],
  [/^ ?(?:mls?|cc)(?![a-z])/, 'mL'],
  [/^ ?(?:l(?:it(?:re|er)s?)?|ltrs?)(?![a-z])/, 'L'],
  [/^ ?kgs?(?![a-z])/, 'kg'],
  [/^ ?(?:lbs?|pounds?)(?![a-z])/, '[lb_av]'],
  [/^ ?(?:ft|feet)(?![a-z])/, '[ft_i]{altitude}'],
  [/^ ?(?:m|met(?:re|er)s?)(?![a-z])/, 'm{altitude}'],
  [/^ ?pred(?:icted)?(?![a-z])/, '%'],
];

/** A mark is being looked for, not a reading held. */
export const comparingWords = /\b(?:below|under|above|less than|more than|at least|at most|cut ?off|threshold)\b/;

/** A fall or a rise is another measure than the value: 'FVC drop 30' is not an FVC of 30. */
export const changeWords: readonly [RegExp, 'fall' | 'rise'][] = [
  [/\b(?:drop\w*|fall\w*|fell|declin\w*|loss|lost|losing|down|decreas\w*|reduction)\b/, 'fall'],
  [/\b(?:rise|rose|rising|risen|increas\w*|gain\w*|up by)\b/, 'rise'],
];

export const nightWords = /\b(?:over ?night|at night|night|nocturnal|asleep|in sleep|during sleep|sleeping)\b/;
export const childWords = /\b(?:child(?:ren)?|boy|girl|kid|infant|baby|toddler|teenager|p(?:a)?ediatric)\b/;

/** Said in passing: nothing is lost by not using them. */
export const passingWords = new Set(
  'a about adult an and approx approximately at awake best by for from has have her his in is it my not now of off on or our patient person pt reading rest resting result sitting standing the their to today upright via was with woman man'.split(
    ' ',
  ),
);
