/** Emergency wording, shown before anything else. Static text: no form has to be finished to see it. */
export const emergencyKinds = ['breathing', 'cough', 'equipment', 'infection', 'none'] as const;
export type EmergencyKind = (typeof emergencyKinds)[number];

/**
 * `row` is the one line above a title, and `page` says what to do.
 * Source: the project's standing safety wording, common practice; local emergency procedure comes first.
 */
export const emergencyWords: Record<
  Exclude<EmergencyKind, 'none'>,
  { row: string; page: string; signs: string; act: string; say: string }
> = {
  breathing: {
    row: 'Drowsy, grey, cannot finish a sentence?',
    page: '/urgent/drowsy-or-grey/',
    signs: 'Drowsy, confused, grey, or too breathless to finish a sentence?',
    act: 'Call the emergency number now. Do not finish this page.',
    say: 'Say: neuromuscular disease, the breathing muscles are failing, uses or may need a ventilator.',
  },
  cough: {
    row: 'Choking, cannot clear the chest?',
    page: '/urgent/cannot-clear-the-airway/',
    signs: 'Choking, or secretions that will not clear while colour or alertness changes?',
    act: 'Call the emergency number now. While help comes, use the person\u2019s own cough and suction plan.',
    say: 'Say: neuromuscular disease, cannot clear the airway, and what has been tried.',
  },
  equipment: {
    row: 'Ventilator stopped, and needed now?',
    page: '/urgent/equipment-stopped/',
    signs: 'Ventilator stopped, and the person cannot do without it?',
    act: 'Call the emergency number now, and ventilate by hand with the bag kept at the bed. Find the fault afterwards.',
    say: 'Say: depends on a ventilator, it has stopped, being ventilated by hand.',
  },
  infection: {
    row: 'Chest infection, drowsy or grey?',
    page: '/urgent/chest-infection/',
    signs: 'A chest infection, and drowsy, grey, breathing fast or unable to clear the chest?',
    act: 'Call the emergency number now, and follow the infection plan while help comes.',
    say: 'Say: neuromuscular disease, chest infection, weak cough, at risk of holding carbon dioxide.',
  },
};

export const closingSafety =
  'Findings are published criteria compared with readings. They are not a decision. Follow the person\u2019s own plan, the prescriber\u2019s orders and your local policy. A normal number never outweighs a person who looks unwell.';
