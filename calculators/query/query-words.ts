/**
 * The words of the trade that a typed line may hold. Plain tables: small letters, no accents, no logic. A pattern is looked
 * for as whole words unless a table says otherwise.
 */

import type { Sex } from '../domain/age-and-sex.ts';
import type { Disease } from '../domain/diseases.ts';
import type { Reading, SupportStatus, Wish } from '../domain/visit.ts';
import type { Interface } from '../oxygen/interfaces.ts';
import type { UnitCode } from '../quantity.ts';

/**
 * Parts that many phrases share, named in capitals inside a pattern, as in /CANNOT SWALLOW/. A typed line has no capitals.
 * The longer wording comes first.
 */
export const phraseParts: Readonly<Record<string, RegExp>> = {
  CANNOT:
    /can ?not|cant|can no longer|no longer (?:able to|can)|no longer|could ?nt|could not|unable to|not able to|isnt able to|struggl(?:es|ing|ed) to|hardly|barely|wont|will not|does ?nt|does not|did ?nt|not/,
  TROUBLE:
    /troubles?(?: with)?|difficult(?:y|ies)?(?: in| with)?|problems?(?: with)?|issues?(?: with)?|struggl(?:es|ing)(?: with)?/,
  SWALLOW: /sw[ao]l+ow\w*/,
  DROWSY: /drowsy|drowsier|drowsiness|drousy|drowzy|sleepy|sleepier|sleepiness|somnolent|somnolence|letharg\w*/,
  TODAY:
    /today|tonight|now|this (?:morning|afternoon|evening|week)|since (?:yesterday|last night|this morning|today|\w+day)|yesterday|last night|suddenly|newly|acutely|(?:in|over|for) (?:the )?(?:last |past )?(?:few |\d |two |three )?(?:hours|days)/,
  BREATHLESS:
    /short(?:ness)? (?:of|in) breath|sob(?:oe)?|breathless\w*|d[yi]spn\w*|air hunger|winded|puffed(?: out)?|out of breath|(?:TROUBLE|hard time) breathing|breathing TROUBLE/,
  PHLEGM: /phle[gm]+|phlem|flegm|flem|mucus|mucous|sputum|secretions?/,
  MACHINE:
    /ventilator|vent|respirator|breathing machine|bi-?level|niv|(?<!cough |suction |feeding |washing |feed )machine/,
  THEIR: /the|his|her|their|its|a|an|any|my/,
};

/**
 * The narrower word first: an acute injury is not a chronic one. A number that names a type (SMA 2, limb-girdle 2A, a level
 * of the cord) belongs to the disease and is no age.
 */
export const diseaseWords: readonly [RegExp, Disease][] = [
  [
    /(?:acute|new|fresh|recent)(?: high)?(?: c[1-8])? (?:sci|(?:spinal )?cord injury|spinal injury|tetra(?:plegi\w+)?|quad(?:riplegi\w+)?|c[1-8] (?:injury|fracture)|injury)|acute c[1-8]|bro(?:ke|ken)(?: his| her| their| my)? neck|fractured neck|c[1-8](?: injury| fracture)? (?:last week|(?:\d{1,2}|a few|few|two|three) (?:days|weeks) ago)|(?:c[1-8] )?(?:sci|(?:spinal )?cord injury|spinal injury|tetraplegi\w+|quadriplegi\w+|(?<=c[1-8] )(?:injury|fracture)) (?:today|yesterday|last night|last week|this (?:morning|week)|\d{1,2} days? ago|(?:\d|a few|few|two|three) weeks? ago)/,
    'sci-acute',
  ],
  [/als|mnd|motor neuron(?:e)?(?: disease)?|amyotrophic lateral sclerosis/, 'als'],
  [/dmd|dus?chen+e/, 'dmd'],
  [
    /sma(?: type)? ?[0-4](?![\d.,]| ?%|[- ]?(?:y|yo|yrs?|years?|months?|mths?|weeks?|wks?|days?)\b)|spinal muscular atrophy(?: type [0-4])?|sma/,
    'sma',
  ],
  [/dm ?1|myotonic(?: dystrophy)?(?: type 1)?|steinert/, 'dm1'],
  [/pompe|lopd|acid maltase/, 'pompe'],
  [/(?:post[- ]?)?polio|pps/, 'post-polio'],
  [/fshd[12]?|facioscapulohumeral/, 'fshd'],
  [/lgmd ?(?:[12d][a-z]|r\d{1,2})|lgmd|limb[- ]girdle/, 'lgmd'],
  [/cmd|congenital muscular dystrophy|ullrich/, 'cmd'],
  [/gbs|miller[- ]fisher|gu?il+[ia]{1,2}n[- ]?bar+ee?|gui?l+[ia]{1,2}n/, 'gbs'],
  [/mg(?![/]| (?:per|a) )|my[ae]?sth?[ei]n\w*(?: gravis)?/, 'mg'],
  [
    /(?:c[1-8] )?(?:complete |incomplete )?(?:sci|(?:spinal )?cord injury|tetraplegi[ac]|quadriplegi[ac])|(?<=c[1-8] )(?:injury|quad|tetra)|c[1-8] (?:quad|tetra)/,
    'sci',
  ],
  [
    /becker|nemaline|cmt ?[12]?[a-z]?|charcot[- ]marie[- ]tooth|myopathy|kennedy(?: ?s)?(?: disease)?|sbma|inclusion body(?: myositis)?|ibm|bethlem|centronuclear|myotubular|dm ?2|promm/,
    'other-chronic',
  ],
];

/** Not seen in small children: a small number of years or months beside them is how long, not how old. */
export const adultDiseases: readonly Disease[] = ['als', 'post-polio', 'sci'];

/** A number right before 'mg' is a dose, and the word is no disease. */
export const doseWords = /\d+(?:[.,]\d+)? ?(?:mg|mcg|micrograms?|milligrams?)(?: ?\/ ?(?:kg|ml|dl|day|d))?/;

// ---- who ------------------------------------------------------------------------------------------------------------------

/** A letter counts only right after something that was understood: '63 yo f'. */
export const sexWords: readonly [RegExp, Sex][] = [
  [/woman|female|girl|lady|(?<=\| ?)f/, 'female'],
  [/man|male|boy|gentleman|(?<=\| ?)m/, 'male'],
];
/** Under one year, whatever else is not said. */
export const infantWords = /infant|baby|newborn|neonate|new ?born/;
export const childWords =
  /child(?:ren)?|boy|girl|kid|infant|baby|newborn|neonate|toddler|teen(?:ager)?|adolescent|p(?:a)?ediatric/;
export const grownWords = /adult|man|woman|lady|gentleman|grown[- ]?up/;

/** Before or after a number of months or years it is how long, not how old. */
export const durationBefore =
  /over|in|for|last|past|every|per|after|within|since|x|niv|bilevel|ventilator|vent|oxygen|o2|peg|diagnosed|onset|symptoms|repeat(?:ed)?|review(?:ed)?/;
export const durationAfter = /ago|later|apart|post|after|since|history|hx|of|into|interval|before|earlier|in a row/;

// ---- negation -------------------------------------------------------------------------------------------------------------

/** Right before a word, or with nothing but `lightWords` between. */
export const negators =
  /stopped using|no longer|no sign of|no signs of|free of|free from|negative for|absence of|lack of|instead of|without(?: THEIR)?|w\/o|never|neither|deny|denie[sd]|denying|nil|no|not|non|isnt|arent|wasnt|werent|hasnt|havent|hadnt|doesnt|does not|dont|do not|didnt|did not|cannot be/;
/** Further ones for oxygen and for support: 'off oxygen', 'weaned from NIV'. */
export const stoppers =
  /(?:came |come |coming |taken |weaned |now |is )?off(?: (?:his|her|their|the))?|stopped(?: (?:using|his|her|their|the))?|weaned from|removed|took off/;
/** Between a negation and what it negates. Any other word ends it. */
export const lightWords =
  /been|being|on(?: THEIR)?|in|any|new|much|really|very|so|too|had|have|having|got|get|gets|getting|more|obvious|significant|apparent|further|recent|increased|known|h\/o|c\/o|hx of|need for|requir(?:es|ing|ed|e)|signs? of|evidence of|history of|complain(?:s|ing|ts?)? of|complaints? of|feel(?:s|ing)?|report(?:s|ing|ed)?|use of|us(?:e|es|ing|ed)|need(?:s|ing|ed)?|want(?:s|ing|ed)?|currently|yet|at all|a/;
/** Goes on with the negation before it. */
export const orWords = /or|nor|\/|and no|and\/or/;
/** After a word, at the end of its clause or after a colon. */
export const negatedAfter = /no|none|nil/;
/** After a word. */
export const goneAfter =
  /denied|absent|negative|resolved|gone(?: away)?|settled|stopped|went away|not present|better now|-ve|neg|discontinued|weaned(?: off)?/;
/** After oxygen. */
export const stoppedAfter = /(?:is |now |turned |switched |taken )*off/;
export const affirmedAfter = /yes|present|positive/;

// ---- signs ----------------------------------------------------------------------------------------------------------------

export interface SignWords {
  words: RegExp;
  /** signs that are present where the words are said */
  yes: readonly string[];
  /** signs that are absent where the words are negated: only those that the words stand for as a whole */
  no?: readonly string[];
  /** in a child, in place of `yes` and `no` */
  child?: { yes: readonly string[]; no?: readonly string[] };
  /** said of a child only: `tells` that it is one, `needs` to be told; in an adult the words are not understood */
  childOnly?: 'tells' | 'needs';
  /** what the words were taken for, where they can mean less */
  as?: string;
  /** said of health: `yes` holds the signs that are absent */
  healthy?: true;
  /** says that all is well, without standing for a whole sign */
  fine?: true;
  /** bears on a visit but does not make one: 'wheelchair' alone is a topic */
  besides?: true;
  /** flag that it also sets on a test */
  flag?: string;
  /** on a test that has this flag it is the flag and no sign */
  flagFirst?: string;
  /** page that says what to do */
  danger?: string;
}

const work = 'child-work-of-breathing-changed';
const feeding = 'child-feeding-or-cry-changed';
const colour = 'child-colour-changed';
const alertness = 'child-less-alert';
const drowsy = 'new-drowsiness-or-confusion';
const sleepy = 'daytime-sleepiness';
const bulbar = 'bulbar-dysfunction';
const saliva = 'sialorrhoea';
const blocked = 'airway-blocked-by-secretions-not-cleared';
const infection = 'respiratory-infection';
const unwell = 'acutely-unwell';
const atRest = 'unable-to-speak-in-sentences-or-accessory-muscle-use-at-rest';
const sentences = 'newly-unable-to-speak-in-sentences';
const machine = 'ventilator-failure-in-dependent-person';
const drowsyOrGrey = '/urgent/drowsy-or-grey/';

/** The narrower phrase first; what one takes, the next no longer sees. */
export const signWords: readonly SignWords[] = [
  // swallowing, saliva, speech
  { words: /SWALLOW (?:is |are )?(?:ok|okay|fine|normal|good|safe|safely|intact|unchanged|well)/, yes: [], fine: true },
  {
    words:
      /(?:CANNOT|TROUBLE) (?:swallow(?:ing)?|manag(?:e|ing)|clear(?:ing)?|control(?:ling)?|handl(?:e|ing)) (?:THEIR )?(?:own )?(?:saliva|spit)|TROUBLE (?:of |in )?(?:THEIR )?(?:saliva|spit)|(?:saliva|spit) (?:TROUBLE|everywhere|worse)/,
    yes: [saliva, bulbar],
    no: [saliva],
  },
  {
    words:
      /CANNOT (?:even )?SWALLOW|TROUBLE (?:w |of )?(?:THEIR )?SWALLOW|SWALLOW (?:is |are |has |getting |got |gets )*(?:TROUBLE|bad|poor|weak\w*|slow|impaired|affected|gone|going|failing|unsafe|off|worse|worsening|difficult)|(?:poor|weak|bad|unsafe|impaired|slow|no)(?:er)? SWALLOW(?! (?:TROUBLE|bad|worse))|d[iy]sphag\w*/,
    yes: [bulbar],
  },
  {
    words:
      /slur\w*(?: speech)?|d[iy]sarthr\w*|nasal (?:voice|speech)|(?:voice|speech) (?:is |has |getting )*(?:weak\w*|fading|slurred|gone|going|lost|nasal|worse|hoarse|changed|unclear)|(?:weak|hoarse|quiet|fading|nasal|unclear) (?:voice|speech)|(?:no|lost) speech|CANNOT (?:speak|talk)(?! (?:in|more|a|full))|anarthri\w*|(?:food|drinks?|fluids?|liquids?) (?:comes? |coming |goes |going )?(?:through|down|up|out of) (?:the |his |her )?nose|nasal regurg\w*|aspirat(?:ing|es|ed|ion)(?! pneumonia)|cough\w* (?:on|when|with|while) (?:drink\w*|eat\w*|food|liquids?|fluids?|meals?|thin\w*)|food sticks?|food sticking/,
    yes: [bulbar],
  },
  {
    words: /bulbar(?: (?:weakness|symptoms?|onset|signs?|involvement|dysfunction|features|palsy|trouble|problems?))?/,
    yes: [bulbar],
    no: [bulbar],
  },
  {
    words:
      /(?:thick|sticky|ropey|ropy|tenacious|stringy) (?:saliva|spit|PHLEGM)|(?:saliva|secretions?) (?:is |are )?(?:thick|sticky)/,
    yes: ['thick-tenacious-saliva'],
    no: ['thick-tenacious-saliva'],
  },
  { words: /dro+l+(?:s|ing)?|drib+l\w*|sialorr\w*|slobber\w*/, yes: [saliva], no: [saliva] },
  { words: /saliva/, yes: [saliva], no: [saliva], besides: true },

  // choking
  {
    words:
      /(?:wak(?:es|ing|ed|en)|woken?)(?: up)?(?: (?:at night|in the night|from sleep))? BREATHLESS|BREATHLESS (?:at|in the|during the) night|nocturnal d[yi]spn\w*|pnd/,
    yes: ['waking-breathless-or-choking', 'breathlessness'],
    no: ['waking-breathless-or-choking'],
  },
  {
    words:
      /(?:wak(?:es|ing|ed|en)|woken?|waking|wakes)(?: up)?(?: (?:at night|in the night|from sleep))? (?:cho\w*king|gasping|smothering|suffocating|panicking)|(?:smother\w*|suffocat\w*)(?: feelings?| sensation)? (?:at|in the|during the) night/,
    yes: ['waking-breathless-or-choking'],
    no: ['waking-breathless-or-choking'],
  },
  {
    words: /ch[oa]a?c?k(?:e?ing|es|ed) (?:at|last|in the|during the|every) night/,
    yes: ['waking-breathless-or-choking', bulbar],
    no: ['waking-breathless-or-choking'],
  },
  {
    words:
      /(?:risk of|fear of|history of|sometimes|occasional(?:ly)?|often) choking|choking (?:episodes?|spells?|attacks?|fits|sometimes|often|occasionally|easily|risk|at meals?)|cho[ac]?k(?:es|ed)(?: on)?(?: (?:thin|own|some|THEIR|hot))*(?: (?:liquids?|fluids?|food|drinks?|water|saliva|spit|tea|meals?|solids?|bread))?/,
    yes: [bulbar],
  },
  {
    words:
      /cho[ac]?ke?ing(?: on)?(?: (?:thin|own|some|THEIR))*(?: (?:liquids?|fluids?|food|drinks?|water|saliva|spit|PHLEGM))?|chokeing/,
    yes: [blocked, bulbar],
    no: [blocked],
    as: 'happening now',
  },

  // alertness
  {
    words:
      /(?:new|newly|sudden|suddenly|more|increasingly|getting|becoming|very|gone|now) (?:and more |very |more )?DROWSY(?: and \w+)?(?: TODAY)?|DROWSY (?:all day )?TODAY/,
    yes: [drowsy],
    no: [drowsy],
    child: { yes: [drowsy, alertness], no: [drowsy, alertness] },
  },
  {
    words:
      /(?:always|usually|chronically|constantly|often) DROWSY|DROWSY (?:all )?(?:by|in|during|through) (?:the )?(?:day|daytime|days|afternoons?)|DROWSY (?:all day|most days|daily|every day|for (?:months|years|weeks))|(?:excessive )?day ?time DROWSY|doz(?:es|ing|ed)(?: off)?(?: (?:in|through|during|by) (?:the )?(?:day|afternoons?|evenings?))?|nod(?:s|ding) off|napping|eds|hypersomnolen\w*|falls asleep (?:by day|in (?:the )?(?:chair|day|afternoon)|at (?:meals|work|the table)|watching tv|easily)/,
    yes: [sleepy],
    no: [sleepy],
  },
  {
    words: /sleepier/,
    yes: [drowsy, sleepy],
    no: [drowsy, sleepy],
    child: { yes: [drowsy, sleepy, alertness], no: [drowsy, sleepy, alertness] },
    as: 'new',
  },
  {
    // In a grown-up a symptom, unless the line says that it is new; in a child less alert.
    words: /sleepy|sleepiness/,
    yes: [sleepy],
    no: [drowsy, sleepy],
    child: { yes: [drowsy, sleepy, alertness], no: [drowsy, sleepy, alertness] },
    as: 'by day: newly sleepy is an emergency',
  },
  {
    words: /DROWSY/,
    yes: [drowsy],
    no: [drowsy],
    child: { yes: [drowsy, alertness], no: [drowsy, alertness] },
    as: 'new',
  },
  {
    words: /unresponsive|unrous\w*|unconscious|not respond(?:ing|s)?|obtunded|coma\w*/,
    yes: [drowsy],
    child: { yes: [drowsy, alertness] },
    danger: drowsyOrGrey,
  },
  {
    words:
      /(?:hard|harder|difficult|impossible) to (?:wake|rouse|arouse)(?: up)?|CANNOT (?:be )?(?:wake|woken|rouse|roused)(?: (?:up|him|her|them))*|wont wake(?: up)?|less alert|not alert|delirious|co2 narcosis/,
    yes: [drowsy],
    no: [drowsy],
    child: { yes: [drowsy, alertness], no: [drowsy, alertness] },
  },
  { words: /alert and orient(?:at)?ed/, yes: [drowsy, 'confusion'], healthy: true },
  {
    words:
      /(?:newly |acutely |more |very )?(?:confus+ed(?! (?:about|by|which|what|how|with))|confus+ion|muddled|disorient(?:at)?ed)(?: TODAY)?/,
    yes: [drowsy, 'confusion'],
    no: ['confusion'],
    child: { yes: [drowsy, 'confusion', alertness], no: ['confusion'] },
  },
  { words: /floppy|floppier/, yes: [], childOnly: 'needs', child: { yes: [alertness, drowsy], no: [alertness] } },

  // headache
  {
    words: /(?:sudden|pounding|thunderclap|worst|splitting) head ?a(?:che?|ke)s?/,
    yes: [unwell],
    as: 'acutely unwell',
  },
  {
    words:
      /(?:new|newly|much worse|worse|worsening) (?:morning )?head ?a(?:che?|ke)s?|(?:morning )?head ?a(?:che?|ke)s? (?:is |are |much |getting )*(?:new|worse|worsening)/,
    yes: ['morning-headache', drowsy],
    no: ['morning-headache'],
  },
  {
    words:
      /morning head ?a(?:che?|ke)s?|head ?a(?:che?|ke)s? (?:in the mornings?|on waking|every morning|mornings)|wakes with (?:a )?head ?a(?:che?|ke)s?/,
    yes: ['morning-headache'],
    no: ['morning-headache'],
  },
  {
    words: /head ?a(?:che?|ke)s?|hedaches?/,
    yes: ['morning-headache'],
    no: ['morning-headache'],
    as: 'a headache in the morning',
  },

  // infection, being unwell
  {
    words:
      /vomit\w* (?:and |while )?(?:on|with|takes|taking|missed|missing) (?:\w+[- ]term |his |her |their )?(?:steroids?|prednisol?one|deflazacort)|(?:steroids?|prednisol?one|deflazacort) (?:and )?vomit\w*|(?:missed|cannot keep down|cant keep down) (?:his |her |their )?steroids?|adrenal crisis/,
    yes: [unwell],
    danger: '/urgent/chest-infection/',
  },
  {
    words:
      /vomit\w* (?:in|into|inside) (?:the |his |her )?mask|mask (?:is )?full of vomit|vomit\w* blood|cough\w* (?:up )?blood/,
    yes: [unwell],
    danger: '/urgent/cannot-clear-the-airway/',
  },
  {
    words:
      /(?:trach\w*|trachy|trachi|tracheostomy)(?: tube)? (?:has |is )?(?:came|come|fell|fallen|pulled|slipped) out|(?:blocked|stuck) trach\w*/,
    yes: [unwell],
    danger: '/breathing/tracheostomy-is-out-of-scope/',
  },
  {
    words:
      /(?:CANNOT|hard to|no longer) (?:lift|raise|hold up|hold)s? (?:his |her |their |the )?head(?: up)?(?: off (?:the |a )?pillow)?|head drops?|neck (?:is )?(?:very )?(?:weak|floppy)|weak neck/,
    yes: ['neck-weakness'],
    no: ['neck-weakness'],
  },
  { words: /(?:autonomic )?dysreflexia/, yes: [unwell], danger: '/diseases/cord-injury/' },
  {
    words:
      /(?:recurrent|repeated|frequent|several|many|[2-9]|two|three|four) (?:chest )?(?:infections|pneumonias)(?: (?:this|last|a|per) (?:winter|year))?|(?:recurrent|repeated|frequent) (?:chest infection|pneumonia|infection)|(?:chest )?infections again and again/,
    yes: ['repeated-chest-infections'],
    no: ['repeated-chest-infections'],
  },
  {
    words:
      /(?:acute )?(?:chest|respiratory) (?:infection|inf)|chest cold|chesty(?: cold| cough)?|(?<!(?:history of|previous|past|old) )(?:p[ne]+u?monia|pnuemonia)(?! (?:vaccine|jab|shot|last (?:year|winter)|in \d{4}|\d+ (?:years?|months?) ago))|bronchitis|bronchiolitis|lrti|urti|rti|rsv|covid(?! (?:vaccine|jab|booster|negative))|(?:flu|influenza)(?! (?:jab|shot|vaccine))|colds? (?:on|going to|gone to|in) (?:the |his |her )?chest|(?:green|yellow|purulent) PHLEGM/,
    yes: [infection],
    no: [infection],
    flag: 'unwell',
  },
  {
    words:
      /(?:(?:with|has|got|caught|having|bad|heavy|new|head|a|the|bit of a) )*(?<!(?:feels|feeling|is|so|too|very|gets|am|are|was|hands|feet|fingers) )colds?(?! (?:hands?|fingers?|feet|foot|toes?|air|weather|sores?|water|room|house|pack|compress|drinks?|food|and clammy|skin|nose|day|night|outside|legs?|arms?|shower))/,
    yes: [infection],
    as: 'a cold that goes to the chest',
    flag: 'unwell',
  },
  {
    words: /otherwise well|clinically well|(?:is|feels?|looks?) (?:very |quite )?well|well today/,
    yes: [unwell],
    healthy: true,
  },
  {
    words:
      /fever(?:ish|s)?(?: (?:of )?(?:3[5-9]|4[0-2]|9[5-9]|10\d)(?:[.,]\d)?(?: ?[cf])?(?![\d.,a-z%]))?|febrile|rigors|shiver\w*|chest pain|cough\w* (?:up )?blood|ha?emoptysis|pyrexi\w*|high temperature|running a temp\w*|septic|sepsis|vomit\w*|throwing up/,
    yes: [unwell],
  },
  {
    words:
      /(?:acutely |very |really |quite )*(?:unwell|(?<!as )not (?:at all |so |very )?well)|(?:is |feels |looks |very |really |so |been )+(?:ill|poorly|sick|rough)|acutely ill|(?:seriously|critically) ill|ill(?![ -]fit\w*)|sick(?! (?:of|day|note|leave))|poorly (?:today|baby|child)|deteriorat\w* (?:TODAY|fast|rapidly)|(?:rapid|rapidly|acute|acutely) deteriorat\w*/,
    yes: [unwell],
    no: [unwell],
    flag: 'unwell',
  },

  // breath
  { words: /(?:breathing|breath) (?:is )?(?:fine|ok|okay|normal|easy|unchanged)/, yes: [], fine: true },
  {
    words:
      /(?:can |able to |happy to )(?:lie|sleep) (?:down )?flat(?: fine| ok| well)?|sleeps flat|lies flat (?:fine|ok|well|comfortably)|comfortable (?:lying )?flat/,
    yes: ['orthopnoea'],
    healthy: true,
  },
  {
    words:
      /orthopn\w*|(?:BREATHLESS|CANNOT breathe) (?:when |on |while |if )?(?:he |she )?(?:lying|lies|laying|lie|flat|supine|in bed|on (?:his|her) back)(?: (?:flat|down|back))*|(?:CANNOT|never) (?:lie|lies|lying|lay|laying|sleep|sleeps|tolerate|manage)(?: lying)?(?: down)? flat|(?:CANNOT|never) (?:lie|lay) down|(?:sleeps?|sleeping|slept) (?:in (?:a |an |the |his |her )?(?:chair|recliner|armchair)|upright|sitting(?: up)?|propped(?: up)?)|(?:sleeps? |sleeping )?(?:on |with )?(?:[2-9]|two|three|four|five|several|extra|more) pillows?/,
    yes: ['orthopnoea'],
    no: ['orthopnoea'],
  },
  {
    words:
      /(?<!(?:cannot|cant|not|unable to) )(?:speak|talk|finish|complet)\w*(?: in)? (?:full|whole|complete|normal|long) sentences/,
    yes: [sentences],
    healthy: true,
  },
  {
    words:
      /CANNOT (?:finish\w*|complet\w*|speak\w*|talk\w*|say|manage|get (?:out|through))(?: in)?(?: THEIR| full| whole| complete| long)* sentences?(?: in one breath)?|(?:speak|talk)(?:s|ing)? (?:only )?in (?:single |short |one |two |few |broken )*(?:words?|sentences?|phrases?)|(?:short|broken) sentences|(?:single|one) words? (?:only|at a time|answers?|sentences?)|only (?:say|speak|manage|talk)s? (?:in )?(?:a )?(?:few|single|one|two|couple of|short) (?:words?|sentences?|phrases?)|few words at a time|BREATHLESS (?:when |while |on )?(?:talking|speaking)|no (?:longer )?(?:full )?sentences/,
    yes: [sentences],
    no: [sentences],
    as: 'new',
  },
  {
    words:
      /(?:not|stopped|has stopped|isnt) breathing(?! (?:well|deep\w*|through|in|out|fast|hard))|(?:respiratory|breathing) arrest|apn(?:o)?eic/,
    yes: ['not-breathing'],
  },
  {
    words:
      /CANNOT breathe?(?! (?:well|deep\w*|through|in|out))|CANNOT (?:get|catch) (?:THEIR )?breath|gasping(?: for (?:air|breath))?|fighting (?:for|to) breath\w*|(?:resp|respiratory|breathing) distress|(?:increased |more |hard |high )*work of breathing|wob|labou?red(?: breathing)?|working hard(?:er)? to breathe|breathing (?:is )?(?:hard|harder|labou?red|heavy)/,
    yes: [atRest],
    no: [atRest],
    child: { yes: [atRest, work], no: [atRest, work] },
    as: 'more than is usual for this person',
  },
  {
    words: /(?:BREATHLESS|TROUBLE breathing) (?:even )?at rest|at rest BREATHLESS/,
    yes: [atRest, 'breathlessness'],
    no: [atRest],
    child: { yes: [atRest, 'breathlessness', work], no: [atRest, work] },
    as: 'more than is usual for this person',
  },
  {
    words:
      /(?:(?:more|increasingly|newly|suddenly|getting|worse|worsening|and more) )+BREATHLESS(?: TODAY)?|BREATHLESS (?:is |are |getting |much )*(?:worse|worsening|increasing|TODAY)/,
    yes: ['breathing-worse-in-days', 'breathlessness'],
    no: ['breathing-worse-in-days'],
    child: { yes: ['breathing-worse-in-days', 'breathlessness', work], no: ['breathing-worse-in-days'] },
    as: 'worse over hours or days',
  },
  {
    words:
      /breathing (?:is |has |getting |got |gets |much )*(?:worse|worsening|deteriorat\w*|bad)(?: TODAY)?|(?:worse|worsening|bad) breathing|(?:not|isnt) breathing (?:so |very )?(?:well|good|right)|breathing (?:is )?not (?:so |very )?(?:well|good|right)/,
    yes: ['breathing-worse-in-days', 'worsening-respiratory-impairment'],
    no: ['breathing-worse-in-days', 'worsening-respiratory-impairment'],
    child: { yes: ['breathing-worse-in-days', 'worsening-respiratory-impairment', work] },
    as: 'worse over hours or days',
  },
  {
    words: /BREATHLESS/,
    yes: ['breathlessness'],
    no: ['breathlessness'],
    child: { yes: ['breathlessness', work], no: ['breathlessness'] },
  },

  // how the breathing looks
  {
    words:
      /see ?-?saw(?: breathing| chest)?|paradox(?:ical)?(?: (?:breathing|movement))?|(?:belly|abdominal) (?:paradox|(?:moves|moving|sucks|going|goes) in)/,
    yes: ['abdominal-paradox'],
    no: ['abdominal-paradox'],
    child: { yes: ['abdominal-paradox', work], no: ['abdominal-paradox', work] },
  },
  {
    words:
      /retractions?|recessions?|(?:chest|ribs?|tummy|throat|skin)(?: (?:is|are|wall))* (?:suck|draw|pull|cav)\w* in\w*|suck(?:ing|s) in(?: (?:at|of|under|between))?(?: (?:the |his |her )?(?:ribs?|chest|neck))?|in-?drawing|nas(?:al|e) flar\w*|flar(?:ed|ing) nostrils|nostrils flar\w*|grunt(?:ing|s)|head bobbing|tracheal tug\w*|tugging/,
    yes: ['new-accessory-muscle-use-at-rest'],
    no: ['new-accessory-muscle-use-at-rest'],
    child: { yes: [work], no: [work] },
    as: 'new, at rest',
  },
  {
    words:
      /(?:new |using |uses |use of )*(?<!weak )(?:accessory|neck|shoulder)(?: and (?:neck|shoulder))? muscles?(?! (?:is |are )?weak\w*)(?: (?:use|used|working))?(?: (?:at rest|to breathe))*/,
    yes: ['new-accessory-muscle-use-at-rest', 'accessory-muscle-use'],
    no: ['new-accessory-muscle-use-at-rest', 'accessory-muscle-use'],
    child: { yes: [work, 'accessory-muscle-use'], no: [work, 'accessory-muscle-use'] },
    as: 'new, at rest',
  },
  {
    words:
      /breath(?:es|ing)? (?:is )?(?:very |so |too |really )?(?:fast|quick\w*|rapid\w*)|(?:fast|rapid|quick) breath\w*|tachypn\w*(?! ?\d)|panting|resps? (?:rate )?(?:is |are )?(?:up|high|fast|raised)(?! ?\d)/,
    yes: ['fast-breathing'],
    no: ['fast-breathing'],
    child: { yes: ['fast-breathing', work], no: ['fast-breathing'] },
  },
  {
    words: /shallow breath\w*|breath\w* (?:is )?shallow\w*/,
    yes: ['shallow-breathing'],
    no: ['shallow-breathing'],
  },

  // cough and phlegm
  {
    words: /(?:good|strong|effective) cough(?! (?:flow|assist))|cough (?:is )?(?:good|strong|effective)/,
    yes: ['weak-cough', 'ineffective-cough'],
    healthy: true,
  },
  {
    words:
      /(?:weak|weaker|poor|feeble|quiet|soft) cough(?! (?:flow|assist))|cough (?:is |has |getting |got |sounds |very )*(?:weak\w*|poor|feeble|quiet\w*|soft)/,
    yes: ['weak-cough'],
    no: ['weak-cough'],
  },
  {
    words:
      /(?:CANNOT (?:clear|shift|bring up|get up|cough up|move|manage|get rid of)|TROUBLE clearing|not clearing)(?: up)? (?:THEIR |all )*(?:PHLEGM|airways?|chest|throat)|(?:can ?not|cant|unable to|no longer) (?:clear|shift) it|PHLEGM (?:is |are )?(?:not|wont|isnt|arent) (?:clear\w*|com\w+ up|shift\w*|mov\w+)|suction\w* (?:is )?(?:not|isnt|doesnt|does not|wont) (?:clear\w*|help\w*)|(?:can ?not|cant|unable to) clear(?: them)?(?= ?(?:[;|]|$))/,
    yes: [blocked, 'ineffective-cough'],
    no: [blocked],
    as: 'an airway that does not clear now',
  },
  {
    words:
      /(?:PHLEGM )plug\w*|plugged(?: off)?(?! in)|plugging|blocked (?:airway|trach\w*|throat)|(?:airway|trach\w*) (?:is )?(?:blocked|obstructed)|obstructed airway/,
    yes: [blocked],
    no: [blocked],
  },
  {
    words:
      /CANNOT cough(?: (?:it|them|things|stuff|PHLEGM))?(?: (?:up|out|anything))*|ineffective cough|cough (?:is )?(?:ineffective|not (?:clearing|effective|strong|working))|no cough (?:strength|power|force)/,
    yes: ['ineffective-cough'],
    no: ['ineffective-cough'],
  },
  {
    words:
      /PHLEGM (?:is |are |keeps? |getting )*(?:stuck|stay\w*|sitting|retained|building up)|(?:stuck|retained) PHLEGM/,
    yes: ['sputum-retention', 'ineffective-cough'],
    no: ['sputum-retention'],
  },
  {
    words:
      /(?:lots of|more|copious|rattly|much) PHLEGM|rattl(?:y|ing|es)(?: chest)?|sputum retention|chest (?:is )?(?:full|rattl\w*|bubbl\w*|wet)|wet (?:chest|cough)|gurgl\w*/,
    yes: ['sputum-retention'],
    no: ['sputum-retention'],
  },

  // colour
  {
    words:
      /(?:(?:looks?|looking|going|gone|went|turning|turned|very|a bit) )*(?<!(?:feeling|feels|the|light|dark|navy) )(?:(?:lips?|hands?|fingers?|feet|face|skin) (?:are |is |look |looks |going |gone |turning )*)?(?:blue|gr[ea]y|cyanosed|cyanotic|dusky|ashen|mottled)(?: (?:lips?|face|skin|fingers?))?(?! (?:badge|inhaler|hair|haired|area|literature|mask|tube|light|button|book|bag|line|cap|box|matter|zone|day|filter|circuit|connector))|cyanosis/,
    yes: [unwell],
    child: { yes: [colour, unwell], no: [colour] },
    danger: drowsyOrGrey,
  },
  { words: /pale|pallor|paler/, yes: [], childOnly: 'needs', child: { yes: [colour], no: [colour] } },

  // feeding
  {
    words:
      /(?:CANNOT|not|poor(?:ly)?|off|refus\w*|less|stopped) (?:taking |finishing )?(?:THEIR )?(?:feed(?:s|ing)?|bottles?|milk|suck\w*)|feed(?:s|ing)? (?:less|poor\w*|badly|half|worse)|(?:weak|feeble|quiet|poor|weaker) (?:cry|suck)|(?:cry|suck) (?:is |getting )*(?:weak\w*|feeble|quiet\w*)/,
    yes: [],
    childOnly: 'tells',
    child: { yes: [feeding], no: [feeding] },
  },
  {
    words:
      /(?:not|hardly|barely|stopped) eating|off (?:his |her )?food|(?:no|poor|lost|loss of) appetite|appetite (?:is )?(?:gone|poor)/,
    yes: ['poor-appetite'],
    no: ['poor-appetite'],
    child: { yes: ['poor-appetite', feeding], no: ['poor-appetite'] },
  },

  // machine
  {
    words:
      /(?:power|electric\w*|mains) (?:cuts?|outage|failure|(?:is )?(?:out|down|gone)|went (?:out|off))|no (?:power|electricity|mains)(?! cuts?| outage)|blackout|MACHINE (?:has |is |just |was )*(?:stopped(?: working)?|broken?(?: down)?|broke|dead|died|not working|wont (?:start|turn on|work)|switched itself off|cut out|cutting out|keeps (?:stopping|cutting out)|packed up|shut down)|(?:ventilator|vent|respirator|breathing machine) (?:has )?fail(?:ed|ure)|(?:broken|dead) MACHINE|MACHINE (?:fault|breakdown)|MACHINE battery (?:is )?(?:dead|flat|empty|died|failed)/,
    yes: [machine],
    no: [machine],
    as: 'a ventilator that has stopped, in someone who depends on it',
  },
  {
    words:
      /(?:niv|bi-?level) (?:is |has )?fail(?:ing|ed)|failing (?:on )?(?:niv|bi-?level)|not coping on (?:niv|bi-?level)/,
    yes: ['niv-failing-acutely'],
    no: ['niv-failing-acutely'],
    as: 'failing in acute illness',
  },
  {
    words: /(?:niv|bi-?level) (?:is )?(?:not|no longer) enough/,
    yes: ['persistent-hypoventilation-or-uncontrolled-secretions-on-niv'],
    no: ['persistent-hypoventilation-or-uncontrolled-secretions-on-niv'],
    as: 'not enough although leak and settings were seen to',
  },
  {
    words:
      /CANNOT (?:be|come|get) off (?:niv|it|MACHINE|the MACHINE)?(?: ?to (?:eat|wash))?|needs? (?:niv|it|the MACHINE) by day|(?:niv|use|it) (?:is )?(?:spreading|creeping) into (?:the )?day/,
    yes: ['niv-use-spreading-into-day'],
    no: ['niv-use-spreading-into-day'],
  },
  {
    words:
      /(?:desat\w*|sats (?:drop|fall)\w*) (?:fast |quickly |rapidly )?(?:when |as soon as |if )?off (?:niv|it|the mask|MACHINE)/,
    yes: ['rapid-desaturation-during-niv-break'],
    no: ['rapid-desaturation-during-niv-break'],
  },

  // weakness
  {
    words:
      /(?:getting |become |becoming |much |is )*weaker(?: (?:and weaker|fast|quickly|rapidly|by the hour|TODAY))+|(?:weakness|paralysis) (?:is )?(?:spreading|rising|ascending|climbing|worse|worsening|getting worse)(?: (?:fast|TODAY))?|rapid(?:ly)? (?:progress\w*|worsening|weak\w*)|going downhill(?: fast)?/,
    yes: ['rapid-progression'],
    no: ['rapid-progression'],
  },
  {
    words: /(?:getting |become |becoming |much |is )*weaker|deteriorating|going downhill/,
    yes: ['clinical-deterioration'],
    no: ['clinical-deterioration'],
  },
  {
    words:
      /both sides of (?:the |his |her )?face(?: (?:is |are )?weak\w*)?|facial diplegia|(?:bifacial|bilateral facial)(?: (?:palsy|weakness))?|(?:neither|CANNOT close) (?:his |her )?eyes?(?: closes?)?/,
    yes: ['bifacial-weakness'],
    no: ['bifacial-weakness'],
  },
  {
    words: /(?:face|facial) (?:is )?weak(?:ness)?|weak face/,
    yes: ['bifacial-weakness'],
    as: 'weak on both sides',
    besides: true,
  },
  {
    words:
      /dysautonom\w*|autonomic(?: (?:instability|trouble|dysfunction))?|(?:unstable|swinging|labile|erratic) (?:pulse|bp|blood pressure|heart rate)(?: and (?:pulse|bp|blood pressure))?|(?:pulse|bp|blood pressure|heart rate)(?: and (?:pulse|bp|blood pressure))? (?:is |are |all )*(?:unstable|swinging|labile|erratic)/,
    yes: ['dysautonomia'],
    no: ['dysautonomia'],
  },
  { words: /(?<!adrenal )crisis/, yes: ['suspected-crisis'], no: ['suspected-crisis'] },

  // sleep and mind
  {
    words:
      /(?:poor|bad|broken|disturbed|restless|interrupted) (?:sleep|nights?)|sleep\w* (?:is )?(?:poor\w*|badly|broken|disturbed|restless)|CANNOT sleep(?:ing)?(?: well)?|insomnia|wakes (?:often|a lot|up a lot|frequently|every hour)/,
    yes: ['disturbed-sleep'],
    no: ['disturbed-sleep'],
  },
  {
    words:
      /unrefresh\w*|wak(?:es|ing) (?:up )?(?:tired|exhausted)|not (?:rested|refreshed)|tired on waking|non-?restorative(?: sleep)?/,
    yes: ['unrefreshing-sleep'],
    no: ['unrefreshing-sleep'],
  },
  { words: /nightmares?|vivid dreams/, yes: ['nightmares'], no: ['nightmares'] },
  { words: /hallucinat\w*|seeing things/, yes: ['hallucinations'], no: ['hallucinations'] },
  {
    words: /(?:poor|bad) concentration|(?:CANNOT|TROUBLE) concentrat\w+|concentration (?:is )?(?:poor|worse)|foggy/,
    yes: ['poor-concentration'],
    no: ['poor-concentration'],
  },
  {
    words: /(?:poor|bad) memory|forgetful\w*|memory (?:is )?(?:poor|worse|bad)/,
    yes: ['poor-memory'],
    no: ['poor-memory'],
  },
  {
    words: /fatigued?|tired(?:ness)?(?: all the time| all day)?|exhaust(?:ed|ion)|no energy|worn out/,
    yes: ['fatigue'],
    no: ['fatigue'],
    flagFirst: 'tired',
    besides: true,
  },

  // what else is known
  {
    words: /asymptomatic|symptom[- ]free/,
    yes: ['symptoms-or-signs-of-respiratory-impairment', 'sleep-related-respiratory-symptoms'],
    healthy: true,
  },
  { words: /symptomatic/, yes: ['symptoms-or-signs-of-respiratory-impairment'] },
  {
    words: /(?:breathing |respiratory |night )?symptoms/,
    yes: [],
    no: ['symptoms-or-signs-of-respiratory-impairment', 'sleep-related-respiratory-symptoms'],
  },
  {
    words:
      /(?:high|raised|elevated|rising) (?:pa|p)?co2(?! ?\d)|hypercapni\w*(?! ?\d)|co2 (?:is |was )*(?:high|raised|elevated|up|retain\w*)(?! ?\d)|(?:retaining|retains) co2|co2 retention/,
    yes: ['hypercapnia'],
    no: ['hypercapnia'],
  },
  {
    words:
      /non-? ?ambula\w+|wheel ?chair(?: user| bound)?(?! (?:mount|tray|battery|bracket|vent\w*))|(?:CANNOT|never|stopped|lost) walk(?:s|ing|ed)?(?! (?:far|fast))|lost ambulation/,
    yes: ['non-ambulant'],
    no: ['non-ambulant'],
    besides: true,
  },
  {
    words: /still (?:walks|walking|ambulant)|ambula(?:nt|tory)|can walk|walks/,
    yes: ['non-ambulant'],
    healthy: true,
    besides: true,
  },
  {
    words: /copd|asthma\w*|bronchiectasis|(?:lung|pulmonary) fibrosis/,
    yes: ['known-lung-disease'],
    no: [],
    besides: true,
  },
  { words: /pneumothora\w*|collapsed lung/, yes: ['pneumothorax-ever'], no: ['pneumothorax-ever'], besides: true },
  { words: /bullae?|emphysema/, yes: ['bullae-or-emphysema'], no: ['bullae-or-emphysema'], besides: true },
];

/** In a disease one sign says another: trouble with saliva in myasthenia is a bulbar symptom of myasthenia. */
export const signsInDisease: readonly { disease: Disease; of: readonly string[]; yes: string; as: string }[] = [
  { disease: 'mg', of: [saliva, 'thick-tenacious-saliva'], yes: bulbar, as: 'a sign of weak throat muscles' },
  { disease: 'gbs', of: [saliva], yes: bulbar, as: 'a sign of weak throat muscles' },
  { disease: 'gbs', of: ['clinical-deterioration'], yes: 'rapid-progression', as: 'getting worse fast' },
  {
    disease: 'mg',
    of: [
      bulbar,
      saliva,
      blocked,
      atRest,
      sentences,
      'breathlessness',
      'breathing-worse-in-days',
      'orthopnoea',
      'waking-breathless-or-choking',
      'weak-cough',
      'ineffective-cough',
      'sputum-retention',
      'fast-breathing',
      'shallow-breathing',
      'accessory-muscle-use',
      'new-accessory-muscle-use-at-rest',
      'abdominal-paradox',
      work,
      feeding,
    ],
    yes: 'mg-with-breathing-or-bulbar-symptoms',
    as: 'new or worse',
  },
];

// ---- support, wishes --------------------------------------------------------------------------------------------------------

export interface SupportWords {
  decision: string;
  name: string;
  words: RegExp;
  /** a reading taken on it was breathed through a ventilator */
  ventilates?: true;
}

export const supportWords: readonly SupportWords[] = [
  {
    decision: 'dependency',
    name: 'Second ventilator',
    words: /(?:second|back ?-?up|spare) (?:ventilator|vent|machine)/,
  },
  {
    decision: 'daytime-ventilation',
    name: 'Daytime ventilation',
    words: /mouth ?piece(?: ventilation)?|sip(?: and puff)? ventilation|day ?time (?:niv|ventilation)/,
    ventilates: true,
  },
  {
    decision: 'night-ventilation',
    name: 'NIV',
    words:
      /niv|nippv|bi-?level|non-? ?invasive ventilation|mask ventilation|ventilator|ventilation|ventilated|vent|respirator|breathing machine|vaps/,
    ventilates: true,
  },
  {
    decision: 'cough-help',
    name: 'Cough help',
    words: /cough[- ]?assist|cough machine|mi-?e|insufflat\w*-?(?: ?exsufflat\w*)?/,
  },
  {
    decision: 'lung-volume-recruitment',
    name: 'Lung volume recruitment',
    words: /lvr(?: bag)?|breath stacking|stacking bag/,
  },
  { decision: 'oral-suction', name: 'Suction', words: /suction(?: machine| unit)?/ },
  { decision: 'feeding-tube', name: 'Feeding tube', words: /peg|pej|gastrostomy|feeding tube|g-?tube/ },
];

/** Ways of saying how it is with a support; NAME is where its words stand. */
export const supportFrames: readonly { frame: RegExp; status: SupportStatus; ventilated?: true; besides?: true }[] = [
  { frame: /(?:has |have |had )?stopped (?:using )?(?:the |his |her |their )?NAME/, status: 'none' },
  { frame: /NAME 24 ?\/ ?7|24 ?\/ ?7 NAME|NAME round the clock/, status: 'in-place' },
  {
    frame:
      /(?:declin\w*|refus\w*|turned down|(?:does(?: not|nt)|did(?: not|nt)|wont) (?:want|have|accept|wear)|wont (?:use|try)|not keen on|rejects|rejected) (?:the |any |a |his |her |home |night )*NAME/,
    status: 'declined',
  },
  {
    frame: /NAME (?:was |is |has been |offered and |offered but )*(?:declined|refused|turned down|not wanted)/,
    status: 'declined',
  },
  {
    frame:
      /(?:can ?not|cant|could ?nt|could not|unable to|not|does(?: not|nt)|did(?: not|nt)|poorly) (?:really )?tolerat\w* (?:the |his |her |any )?NAME|NAME (?:was |is |has been )*(?:not (?:being )?tolerated|intoleran\w*)|intoleran(?:t|ce) (?:of|to) NAME/,
    status: 'not-tolerated',
  },
  {
    frame:
      /(?:ordered|awaiting|waiting (?:for|on)|referred for|booked for|about to start) (?:a |the |his |her |home )*NAME|NAME (?:is |was |has been )*(?:ordered|awaited|on order|booked|coming)/,
    status: 'ordered',
  },
  {
    frame:
      /(?:uses|using|use|has|have|having|wears|wearing|with|established on|started on|started|on) (?:a |an |the |his |her |their |own |home |only )*(?:nocturnal|night|nightly|overnight) NAME|(?:uses|using|use|has|wears|wearing|established on|started|on) (?:a |an |the |his |her |their |own |home )*NAME (?:at night|by night|overnight|nightly|every night|all night|for sleep)/,
    status: 'in-place',
  },
  {
    frame: /(?:on|while on|under|through) (?:a |an |the |his |her |their |own |home )*NAME/,
    status: 'in-place',
    ventilated: true,
  },
  {
    frame:
      /(?:uses|using|has|have|having|wears|wearing|established on|started|gets) (?:a |an |the |his |her |their |own |home )*NAME|NAME (?:user|dependent|in place|established)/,
    status: 'in-place',
  },
  {
    frame:
      /with (?:a |an |the |his |her |their |own |home )*NAME|NAME (?:at night|nightly|every night|overnight|by night|all night)|home NAME/,
    status: 'in-place',
    besides: true,
  },
  { frame: /ventilated/, status: 'in-place', ventilated: true },
];

/** Taken off for now: the reading is not on a ventilator, and nothing is said about other hours. */
export const offSupport =
  /(?:came |come |coming |taken |just |trial |trials |while |when )*off (?:the |his |her |their )?NAME(?: for a (?:bit|while))?/;

export const wishWordsTyped: readonly [RegExp, Wish][] = [
  [/comfort (?:care )?only|comfort care/, 'comfort-only'],
  [
    /no hospital|(?:does(?: not|nt)|do not|dont|refuses to|will not|wont) want (?:to (?:go|be) (?:to|in) |any )?hospital|not for hospital|refuses hospital|stay(?:s)? at home whatever/,
    'no-hospital',
  ],
];

// ---- what was breathed ------------------------------------------------------------------------------------------------------

const flow = String.raw`(\d+(?:[.,]\d+)?) ?(?:lpm|l(?:it(?:re|er)s?)?(?: ?(?:\/|per|a) ?min(?:ute)?)?)(?![a-z])`;
const prongs = String.raw`nasal (?:can+ul\w*|prongs?|spec\w*)|can+ul\w*|prongs?|nasal(?! (?:mask|pillow|voice|speech|flar|regurg))|n\/?c|n\/?p`;
const oxygen = '(?:o2|oxygen)';
const masks = String.raw`(?:simple |face |venturi |reservoir )+mask|non[- ]?re-?breath\w*(?: mask)?|nrb|high[- ]flow|hfnc`;

/** Oxygen in use, with its flow as the first group where one is said. As they stand, without word ends added. */
export const oxygenWords: readonly { words: RegExp; night?: true }[] = [
  { words: /\b(?:on )?(?:a )?(?:\d\d ?% )?venturi(?: mask| valve)?(?: (?:at )?\d\d ?%)?/ },
  {
    words:
      /\b(?:on |uses |home )?(?:night|nocturnal|overnight)[- ]?time? (?:oxygen|o2|concentrator)\b(?: (\d+(?:[.,]\d+)?) ?(?:lpm|l)\b)?|\b(?:on |uses |home )?(?:night|nocturnal|overnight) (?:oxygen|o2|concentrator)\b(?: (\d+(?:[.,]\d+)?) ?(?:lpm|l(?:it(?:re|er)s?)?)\b)?|\b(?:on |uses |home )?(?:oxygen|o2|concentrator) (?:at night|overnight|by night|only at night|for the night)\b/,
    night: true,
  },
  {
    words: new RegExp(
      String.raw`\bon ${flow}(?: (?:of )?(?:home |supplemental )?${oxygen}\b)?(?: (?:by |via |on )?(?:${prongs}|mask)(?![a-z]))?`,
    ),
  },
  {
    words: new RegExp(
      String.raw`\b${flow} (?:of |via |by |through |on |a )*(?:(?:home |supplemental )?${oxygen}\b|(?:${prongs}|${masks})(?![a-z]))`,
    ),
  },
  {
    words: new RegExp(
      String.raw`\b(?:on |uses |home |supplemental |portable |with |and )*(?:${oxygen}|concentrator)(?: (?:at|of|by|via))?(?: (?:${prongs}|mask))? ${flow}`,
    ),
  },
  {
    words: new RegExp(
      String.raw`\bon (?:\d+(?:[.,]\d+)? )?(?:${oxygen}\b(?! sat)|(?:an? )?(?:${prongs}|${masks})(?![a-z]))`,
    ),
  },
  {
    words: new RegExp(
      String.raw`\b(?:on |uses |using |has |with |wears |given |gets |started on |needs )*(?:home|supplemental|long[- ]term|portable|domiciliary|continuous|day ?time) (?:${oxygen}|concentrator)\b|\b(?:uses|using|wears|gets|given|started on|put on|has|with|and) (?:a |an |the |his |her )?(?:${oxygen}\b(?! sat)|concentrator\b)|\b(?:${oxygen}|concentrator) (?:at home|user)\b|\bltot\b|\bconcentrator\b`,
    ),
  },
];
/** Bare words that count only where they are negated: 'no oxygen'. */
export const oxygenNamed =
  /(?:home |supplemental |extra |added )?(?:oxygen|o2)(?! (?:sats?|saturation))(?: (?:therapy|use))?/;

/** The words after 'air' that make it something else. */
export const airCompounds =
  /hunger|travel\w*|stack\w*|leak\w*|entry|mattress|bed|ambulance|ways?|flow|trapp\w*|swallow\w*|condition\w*|quality|purif\w*|filter|compress\w*|crew|transport|transfer|cushion|lift|mask|pressure|bubbles?|line|planes?/;
/** Breathing room air. `AIR` is 'air' with none of those words after it. */
export const airWords = /(?:on |in |breathing )?room[- ]?AIR|(?:on|in|breathing) AIR|o?ra(?![/\d])|r\/a/;

export const gasSaid: Record<NonNullable<Reading['gas']>, string> = {
  air: 'on air',
  oxygen: 'on oxygen',
  ventilation: 'on ventilation',
};

// ---- how a reading was taken ------------------------------------------------------------------------------------------------

/** How a gas was taken. A method that a criterion does not allow makes it a 'cannot tell', so it is never dropped. */
export const methodWords: readonly [RegExp, string][] = [
  [/\b(?:vbg|venous)\b/, 'venous'],
  [/\b(?:cbg|capillary|cap(?= (?:gas|p?co2))|ear ?lobe)\b/, 'capillary'],
  [/\b(?:p?etco2|end[- ]tidal|capnogra\w*)\b/, 'end-tidal'],
  [/\b(?:p?tcco2|ptcco2|transcutaneous|skin(?= co2))\b/, 'transcutaneous'],
  [/\b(?:abg|arterial)\b/, 'arterial'],
];

/** Ways a test goes wrong, by the flag they set on a measure that has it. */
export const flagWords: readonly [RegExp, readonly string[]][] = [
  [/(?:air )?leak\w*/, ['leak', 'plug-leak']],
  [/(?:poor|weak|sub-?maximal|not full|half) effort|poor technique/, ['poor-effort']],
  [/blocked nose|congested|stuffy nose/, ['blocked-nose']],
  [/(?:poor|bad) (?:trace|signal)/, ['poor-trace']],
  [/cold (?:hands?|fingers?)/, ['cold-hand']],
  [/nail (?:varnish|polish)|false nails?/, ['nail-varnish']],
  [/walking|exertion|exercis\w*|moving|after a transfer/, ['not-rested', 'just-moved']],
  [/(?:just|just taken) off (?:niv|the mask|ventilat\w*)/, ['just-off-niv']],
];

export const nightWords = /over ?night|at night|night|nocturnal|asleep|in sleep|during sleep|sleeping/;

/** A threshold is being looked for, not a reading compared. */
export const comparingWords = /\b(?:below|under|above|less than|more than|at least|at most|cut ?off|threshold)\b/;

/** With a fall: it came with time, not on lying down. */
export const changedOver =
  /since|(?:in|over|within|for) (?:the )?(?:last |past )?\d+ ?(?:hours?|days?|weeks?|months?|years?)|(?:a|per|last|this|every) (?:day|week|month|year)|yearly|monthly/;

/** A fall or a rise is another measure than the value: 'FVC drop 30' is not an FVC of 30. */
export const changeWords: readonly [RegExp, 'fall' | 'rise'][] = [
  [/drop\w*|fall\w*|fell|declin\w*|loss|lost|losing|down|decreas\w*|reduction/, 'fall'],
  [/rise|rose|rising|risen|increas\w*|gain\w*|up by/, 'rise'],
];

// ---- numbers ----------------------------------------------------------------------------------------------------------------

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

/** Before a number: what it is, where no criterion is about it. Its number is never another measure's. */
export const otherWords: readonly [RegExp, string][] = [
  [/ph/, 'pH'],
  [/pa?o2/, 'PaO2'],
  [/fio2/, 'FiO2'],
  [/hr|heart rate|pulse(?: rate)?/, 'heart rate'],
  [/bp|blood pressure/, 'blood pressure'],
  [/temp(?:erature)?/, 'temperature'],
  [/ipap/, 'IPAP'],
  [/epap/, 'EPAP'],
  [/peep/, 'PEEP'],
  [/cpap/, 'CPAP'],
  [/pressure support/, 'pressure support'],
  [/back ?-?up rate/, 'back-up rate'],
  [/tidal volume|vte?|tv/, 'tidal volume'],
  [/bmi/, 'BMI'],
  [/gcs/, 'GCS'],
  [/alsfrs(?:-?r)?/, 'ALSFRS-R'],
  [/ulna(?:r length)?/, 'ulna'],
  [/knee height/, 'knee height'],
  [/arm ?span/, 'arm span'],
  [/demi-?span|half span/, 'demispan'],
  [/(?:neck|chest|waist) (?:circumference|size)/, 'circumference'],
];
/** After such a number. */
export const otherUnits = /cm ?h2o|cms?|mm ?hg|kpa|bpm|\/min|l\/min|degrees?|c|%|mm/;
/** Before a number that is no reading: 'day 4'. */
export const asideWords =
  /day|week|type|stage|grade|level|trial|attempt|try|visit|room|bed|number|no\.|size|score|page/;
/** Names of pressures: a number of centimetres after one is no height. */
export const pressureWords =
  /mip|mep|nif|snip|sniff|snp|pi ?max|pe ?max|pressure|force|ipap|epap|peep|cpap|leak|suction/;
export const heightWords = /(?<!knee )height|ht|(?<!knee )hgt/;
/** Before three or four numbers in the order of a blood gas. */
export const gasRowWords = /(?:arterial |capillary |venous |blood )?gas(?:es)?|[acv]bg/;

/** Other names of measures, beside those in content/measures.yaml. */
export const moreNames: readonly [string, string][] = [
  ['resp rate', 'respiratory-rate'],
  ['resps', 'respiratory-rate'],
  ['resp', 'respiratory-rate'],
  ['breathing', 'respiratory-rate'],
  ['stats', 'spo2'],
  ['sat', 'spo2'],
  ['o2 sats', 'spo2'],
  ['sp02', 'spo2'],
  ['pulse ox', 'spo2'],
  ['o2', 'spo2'],
  ['oxygen', 'spo2'],
  ['pac02', 'paco2'],
  ['pc02', 'paco2'],
  ['c02', 'paco2'],
  ['cap co2', 'paco2'],
  ['skin co2', 'awake-co2-any-method'],
  ['transcutaneous co2', 'awake-co2-any-method'],
  ['end-tidal co2', 'awake-co2-any-method'],
  ['end tidal co2', 'awake-co2-any-method'],
  ['mie flow', 'mi-e-peak-cough-flow'],
  ['peak cough', 'peak-cough-flow'],
  ['weighs', 'weight'],
  ['assisted', 'assisted-peak-cough-flow'],
];
export interface Guard {
  before?: RegExp;
  behind?: RegExp;
  after: RegExp;
  /** what it was taken for */
  as?: string;
}
/** Names that also say something else: taken only with this after them, or with `behind` before them. */
export const guardedNames: Readonly<Record<string, Guard>> = {
  be: { after: / ?[-+]?\d/ },
  niv: { before: /\b(?:off) /, behind: /\d ?h(?:(?:ou)?rs?)? (?:of |on |a day )?/, after: / ?\d+(?:[.,]\d+)? ?h/ },
  breathing: { after: / ?(?:at )?\d{2}(?![\d.,]|.? ?(?:l|%|lpm|ml)\b)/, as: 'breaths a minute' },
  assisted: { after: / ?\d/ },
  resp: { after: / ?\d/ },
  resps: { after: / ?\d/ },
  o2: { after: / ?(?:[5-9]\d|100)(?![\d.,/]| ?(?:l|lpm|ml)\b)/, as: 'a saturation' },
  oxygen: { after: / ?(?:[5-9]\d|100)(?![\d.,/]| ?(?:l|lpm|ml)\b)/, as: 'a saturation' },
};

/** A slip of the finger away from a measure's name, and words of their own. */
export const ordinaryWords: ReadonlySet<string> = new Set(
  'height heights eight weighted weights wright function functions section sections stiff staff trust trusts thrusts starts'.split(
    ' ',
  ),
);

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

/** Said in passing: nothing is lost by not using them. A negation is never among them. */
export const passingWords = new Set(
  'a about all am an and approx approximately are as at awake be been best bit by can comes for from gas gases get gets getting got had has have having he her here him his i if in into is it its me my new now of on or our patient person please pt reading really rest resting result said says she sitting so standing still that the their them then there they this to today up upright very via was we were when with you'.split(
    ' ',
  ),
);
