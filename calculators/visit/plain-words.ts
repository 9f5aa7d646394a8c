/** Everyday words for the plain version: measures, answers, decisions, wishes, and what an urgent finding asks for first. */
import type { Wish } from '../domain/visit.ts';

interface PlainMeasure {
  /** in place of the measure's own plain name */
  name?: string;
  /** the side on which it gets worse */
  worse?: 'low' | 'high';
  /** what it means, in one short sentence */
  tells?: string;
}

const biggestBreath = 'It shows how much air the lungs can move.';
const carbonDioxide = 'It goes up when the breaths are too small.';
const cough = 'A strong cough keeps the chest clear.';
const breathIn = 'It shows the strength of the muscles that pull air in.';
const nightOxygen = 'The body needs oxygen all night long.';

export const plainMeasures: Readonly<Record<string, PlainMeasure>> = {
  spo2: { name: 'oxygen level', worse: 'low', tells: 'It does not show whether the breaths are big enough.' },
  'respiratory-rate': { name: 'breaths in a minute', worse: 'high', tells: 'Fast breaths can mean tired muscles.' },
  paco2: { name: 'carbon dioxide in the blood', worse: 'high', tells: carbonDioxide },
  'awake-co2-any-method': { name: 'carbon dioxide while awake', worse: 'high', tells: carbonDioxide },
  'morning-earlobe-pco2': { name: 'carbon dioxide in the morning', worse: 'high', tells: carbonDioxide },
  'nocturnal-paco2': { name: 'carbon dioxide during sleep', worse: 'high', tells: carbonDioxide },
  'paco2-overnight-rise': { name: 'rise of carbon dioxide in the night', worse: 'high', tells: carbonDioxide },
  'tcco2-or-etco2-peak-rise': { name: 'rise of carbon dioxide during sleep', worse: 'high', tells: carbonDioxide },
  'tcco2-night-rise': { name: 'rise of carbon dioxide at night', worse: 'high', tells: carbonDioxide },
  'sleep-time-percent-co2-above-50': {
    name: 'part of sleep with high carbon dioxide',
    worse: 'high',
    tells: carbonDioxide,
  },
  'sleep-time-percent-co2-rise-10-above-awake': {
    name: 'part of sleep with more carbon dioxide than by day',
    worse: 'high',
    tells: carbonDioxide,
  },
  'sleep-minutes-co2-above-55': { name: 'sleep with very high carbon dioxide', worse: 'high', tells: carbonDioxide },
  'sleep-minutes-co2-rise-10-and-above-50': {
    name: 'sleep with high carbon dioxide',
    worse: 'high',
    tells: carbonDioxide,
  },
  ph: { name: 'acid level of the blood (pH)', worse: 'low', tells: 'A low level means that the blood is too acid.' },
  bicarbonate: {
    name: 'bicarbonate in the blood',
    worse: 'high',
    tells: 'It can go up when carbon dioxide has been high for days.',
  },
  'nocturnal-minutes-spo2-at-or-below-88': { name: 'low oxygen in the night', worse: 'high', tells: nightOxygen },
  'nocturnal-consecutive-minutes-spo2-at-or-below-88': {
    name: 'longest time of low oxygen in the night',
    worse: 'high',
    tells: nightOxygen,
  },
  'nocturnal-time-spo2-below-90-percent': {
    name: 'part of the night with low oxygen',
    worse: 'high',
    tells: nightOxygen,
  },
  'night-time-spo2-below-90-on-niv-percent': {
    name: 'part of the night with low oxygen, on the breathing machine',
    worse: 'high',
    tells: nightOxygen,
  },
  'sleep-time-percent-spo2-at-or-below-88': {
    name: 'part of sleep with low oxygen',
    worse: 'high',
    tells: nightOxygen,
  },
  'fvc-percent': { name: 'biggest breath, sitting', worse: 'low', tells: biggestBreath },
  'fvc-supine-percent': { name: 'biggest breath, lying flat', worse: 'low', tells: biggestBreath },
  'fvc-drop-supine-percent': {
    name: 'how much smaller the biggest breath is lying flat',
    worse: 'high',
    tells: 'It shows whether the main breathing muscle is weak.',
  },
  'vc-litres': { name: 'biggest breath', worse: 'low', tells: biggestBreath },
  'vc-litres-supine': { name: 'biggest breath, lying flat', worse: 'low', tells: biggestBreath },
  'vc-per-kilogram': { name: 'biggest breath for body weight', worse: 'low', tells: biggestBreath },
  'vc-or-mip-or-mep-fall-from-baseline-percent': {
    name: 'fall since the first test',
    worse: 'high',
    tells: 'It shows how fast the muscles get weaker.',
  },
  'snip-or-mip-fall-per-3-months': { name: 'fall in the strength of breathing in', worse: 'high' },
  'snip-relative-fall-per-3-months': { name: 'fall in the strength of a sniff', worse: 'high' },
  'snip-or-mip-best': { name: 'strength of breathing in', worse: 'low', tells: breathIn },
  snip: { name: 'strength of a sniff', worse: 'low', tells: breathIn },
  mip: { name: 'strength of breathing in', worse: 'low', tells: breathIn },
  mep: { name: 'strength of breathing out', worse: 'low', tells: 'This strength helps you cough.' },
  'peak-cough-flow': { name: 'strength of the cough', worse: 'low', tells: cough },
  'manually-assisted-peak-cough-flow': { name: 'strength of the cough, with a push', worse: 'low', tells: cough },
  'assisted-peak-cough-flow': { name: 'strength of the cough, with help', worse: 'low', tells: cough },
  'mi-e-peak-cough-flow': { name: 'strength of the cough, with the machine', worse: 'low', tells: cough },
  'single-breath-count': { name: 'how far you can count in one breath', worse: 'low', tells: biggestBreath },
  'niv-hours': { name: 'hours on the breathing machine in a day', worse: 'high' },
  'mouthpiece-disconnection': {
    name: 'longest time off the mouthpiece that nobody noticed',
    worse: 'high',
    tells: 'An alarm should tell someone.',
  },
  'interval-months': { name: 'months since the last breathing tests', worse: 'high' },
  ahi: { name: 'pauses in breathing in an hour of sleep', worse: 'high' },
  'weight-loss-percent': { name: 'weight lost', worse: 'high' },
  weight: { name: 'weight' },
  'oxygen-flow': { name: 'added oxygen' },
};

/** Answers in everyday words, as phrases without 'you', so that they fit a child as well: [present, absent] */
export const plainSigns: Readonly<Record<string, readonly [present: string, absent?: string]>> = {
  'new-drowsiness-or-confusion': [
    'newly sleepy or confused, or a worse headache in the morning',
    'not newly sleepy or confused',
  ],
  'unable-to-speak-in-sentences-or-accessory-muscle-use-at-rest': [
    'too short of breath to speak in sentences, or breathing with the neck muscles',
  ],
  'newly-unable-to-speak-in-sentences': ['too short of breath to speak in sentences'],
  'new-accessory-muscle-use-at-rest': ['breathing with the neck muscles'],
  'airway-blocked-by-secretions-not-cleared': ['choking, or phlegm that does not clear'],
  'ventilator-failure-in-dependent-person': ['the breathing machine has stopped'],
  'acutely-unwell': ['ill right now', 'not ill right now'],
  'respiratory-infection': ['a chest infection or a cold on the chest', 'no chest infection'],
  'respiratory-infection-with-weak-cough': ['a chest infection with a weak cough'],
  'acute-respiratory-illness': ['a chest illness', 'no chest illness'],
  'child-work-of-breathing-feeding-colour-or-alertness-changed': [
    'harder breathing, less feeding, a change of colour, or less awake',
  ],
  'child-work-of-breathing-changed': ['harder breathing'],
  'child-feeding-or-cry-changed': ['eats less, or has a weaker cry'],
  'child-colour-changed': ['pale, grey or blue'],
  'child-less-alert': ['floppy, or hard to wake'],
  'not-breathing': ['not breathing'],
  'neck-weakness': ['too weak to lift the head'],
  'acute-weakness-warning-signs': ['signs that the breathing muscles are failing'],
  'breathing-worse-in-days': ['breathing that got worse in hours or days'],
  'worsening-respiratory-impairment': ['breathing that is getting worse', 'breathing that is not getting worse'],
  'suspected-crisis': ['the muscles may be failing fast (a crisis)'],
  'mg-with-breathing-or-bulbar-symptoms': ['new trouble with breath, swallowing or speech'],
  'rapid-progression-or-bulbar-or-bifacial-or-dysautonomia': [
    'weakness that spreads fast, a weak face or weak swallowing, or a pulse that goes up and down',
  ],
  'rapid-progression': ['weakness that spreads fast'],
  'bifacial-weakness': ['weakness on both sides of the face'],
  dysautonomia: ['a pulse or blood pressure that goes up and down'],
  'bulbar-dysfunction': ['weak throat, tongue or swallowing', 'no weakness of the throat'],
  'severe-bulbar-impairment': ['very weak throat and tongue'],
  'clinical-deterioration': ['getting weaker or less well'],
  'already-on-niv': ['a breathing machine is in use', 'no breathing machine is in use yet'],
  'niv-use-spreading-into-day': ['needs the breathing machine by day as well'],
  'niv-failing-acutely': ['the breathing machine is not helping enough'],
  'rapid-desaturation-during-niv-break': ['oxygen drops fast when the mask comes off'],
  'persistent-hypoventilation-or-uncontrolled-secretions-on-niv': ['the breathing machine is no longer enough'],
  'hypoventilation-persisting-on-niv': ['carbon dioxide is still high, or oxygen still low, on the machine'],
  'secretions-uncontrolled-on-niv': ['phlegm that does not clear, on the machine'],
  'supplemental-oxygen-without-ventilation': [
    'oxygen without a breathing machine: it can hide a rise of carbon dioxide',
  ],
  'nocturnal-oxygen-without-niv': ['oxygen at night without a breathing machine'],
  'daytime-oxygen-without-ventilation': ['oxygen by day without a breathing machine'],
  'symptoms-or-signs-of-respiratory-impairment': ['signs of weak breathing'],
  'sleep-related-respiratory-symptoms': ['signs of weak breathing in sleep'],
  orthopnoea: ['short of breath lying flat'],
  breathlessness: ['short of breath'],
  'breathlessness-worse-with-anxiety': ['short of breath, and worse when anxious'],
  'awake-dyspnoea': ['short of breath while awake'],
  'severe-daytime-respiratory-symptoms': ['very short of breath by day'],
  'breathlessness-without-hypoxaemia': ['short of breath, though the oxygen level is not low'],
  'repeated-chest-infections': ['repeated chest infections'],
  'disturbed-sleep': ['broken sleep'],
  'disturbed-sleep-not-from-pain': ['broken sleep, not from pain'],
  'unrefreshing-sleep': ['sleep that is not restful'],
  nightmares: ['nightmares'],
  'waking-breathless-or-choking': ['waking up short of breath or choking'],
  'daytime-sleepiness': ['sleepy by day'],
  'epworth-above-9': ['sleepy by day (sleep score)'],
  'poor-concentration': ['hard to concentrate'],
  'poor-memory': ['poor memory'],
  hallucinations: ['seeing or hearing things that are not there'],
  'morning-headache': ['headache in the morning'],
  fatigue: ['very tired'],
  'poor-appetite': ['not hungry'],
  'fast-breathing': ['fast breathing'],
  'shallow-breathing': ['small breaths'],
  'weak-cough': ['a weak cough'],
  'weak-sniff': ['a weak sniff'],
  'abdominal-paradox': ['the belly goes in when breathing in'],
  'accessory-muscle-use': ['breathing with the neck muscles'],
  'reduced-chest-expansion': ['the chest opens less'],
  'peak-cough-flow-reduced': ['a weak cough when measured'],
  'ineffective-cough': ['a cough that does not clear the chest'],
  'weak-or-ineffective-cough': ['a cough that is too weak', 'a cough that is strong enough'],
  'sputum-retention': ['phlegm that stays in the chest'],
  'saliva-problem': ['trouble with saliva'],
  sialorrhoea: ['drooling'],
  'thick-tenacious-saliva': ['thick saliva'],
  hypercapnia: ['carbon dioxide is high', 'carbon dioxide is not high'],
  'hypercapnia-day-or-night': ['carbon dioxide is high by day or night'],
  'known-lung-disease': ['a lung disease'],
  'known-bullae-pneumothorax-or-structural-lung-disease': ['a lung disease, or a lung that once collapsed'],
  'nocturnal-oximetry-abnormal': ['low oxygen in the night test'],
  'nocturnal-spo2-significant-desaturation': ['drops of oxygen in the night'],
  'nocturnal-hypoventilation': ['breaths that are too small at night'],
  'symptomatic-nocturnal-hypoventilation': ['breaths that are too small at night'],
  'nocturnal-hypercapnia': ['high carbon dioxide at night'],
  'reduced-lung-function': ['a low breathing test'],
  'abnormal-respiratory-function-test': ['a low breathing test'],
  'significant-change-in-breathing': ['a clear change in the breathing tests'],
  'vc-rapid-significant-fall': ['the biggest breath is getting smaller fast'],
  dysphagia: ['trouble with swallowing'],
  'complications-of-hypoventilation': ['problems from small breaths'],
  'ineffective-triggering': ['the breathing machine misses some breaths'],
};

/** What a conversation is about: not the clinician's question, but what it means at home. */
export const plainDecisions: Readonly<Record<string, string>> = {
  'watching-closer': 'which tests come next, and when',
  'cough-help': 'help with coughing',
  'lung-volume-recruitment': 'deep breaths with a bag, to stretch the chest',
  'night-ventilation': 'a mask and a machine that help with breathing at night',
  'daytime-ventilation': 'help with breathing by day, with a mask or a mouthpiece',
  dependency: 'a second machine and batteries',
  'oral-suction': 'help with saliva',
  'oxygen-with-care': 'oxygen: when breathing is weak it can hide a rise of carbon dioxide',
  'feeding-tube-timing': 'eating, weight, and a feeding tube',
  'invasive-ventilation': 'what matters most to you if breathing gets harder',
  breathlessness: 'how to ease shortness of breath',
  procedures: 'how to stay safe if you need an operation or strong sleep medicine',
  travel: 'how to travel safely',
};

export const plainWishes: Readonly<Record<Wish, string>> = {
  everything: 'All help that can work.',
  'no-hospital': 'Not to go to hospital.',
  'comfort-only': 'Comfort care only.',
  'no-ventilation': 'No breathing machine.',
  'no-invasive-ventilation': 'No breathing tube in the windpipe.',
  'not-discussed': 'We have not talked about this yet. Tell us what matters to you.',
};

const tellTheNurse = 'Call the emergency number now. In hospital, tell the nurse now';

/** Longer patterns first. */
const plainer: readonly (readonly [RegExp, string])[] = [
  [
    /^Follow the person.s own plan now; call the team named in it/,
    'Follow your own plan now. Call the team named in it',
  ],
  [/^Call the emergency number now, or critical care in hospital/, tellTheNurse],
  [/^Call critical care, or the emergency number, now/, tellTheNurse],
  [/^Call the emergency number or critical care now/, tellTheNurse],
  [
    /support ventilation and clear the airway/,
    'use the breathing machine if there is one, and help to clear the phlegm',
  ],
  [/support ventilation|use their ventilator if there is one/, 'use the breathing machine if there is one'],
  [/put their ventilator back on/, 'put the breathing machine back on'],
  [/say NIV is failing/, 'say that the breathing machine is not enough'],
  [
    /^Call the ventilation service today about starting NIV urgently/,
    'Call the breathing team today. Ask about a breathing machine',
  ],
  [/the ventilation service/, 'the breathing team'],
  [/^Ventilate by hand now; have someone/, 'Breathe for them by hand now, with the bag. Have someone'],
  [/whatever the vital capacity/, 'whatever the breathing test says'],
  [/say low vital capacity, fast breathing/, 'say "small breaths, fast breathing"'],
  [/ask for a medical review/, 'ask for a doctor'],
  [/use assisted cough as taught/, 'help the cough as you were taught'],
  [/or clear secretions/, 'or help to clear the phlegm'],
  [/clear the airway as taught/, 'clear the nose and mouth as you were taught'],
  [/start the written infection plan/, 'start the plan for infections'],
  [/start the infection plan meanwhile/, 'start the plan for infections while you wait'],
  [/as taught/, 'as you were taught'],
  [/does not want ventilation/, 'no breathing machine is wanted'],
  [/meanwhile/, 'while you wait'],
];

/** What an urgent finding asks for first, in words for the home. */
export function plainAct(act: string): string {
  const told = plainer.reduce((words, [from, to]) => words.replace(from, to), act);
  return told.replace(/; ([a-z])/g, (_, letter: string) => `. ${letter.toUpperCase()}`);
}
