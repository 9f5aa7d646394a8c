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
    act: 'Call the emergency number now. Call before you read the rest of this page.',
    say: 'Say: \u201cThis person has neuromuscular disease, and the breathing muscles are failing. They use, or may need, a ventilator.\u201d',
  },
  cough: {
    row: 'Choking, cannot clear the chest?',
    page: '/urgent/cannot-clear-the-airway/',
    signs: 'Is the person choking, or unable to clear secretions, with a change in colour or alertness?',
    act: 'Call the emergency number now. While help is on its way, use the person\u2019s own cough and suction plan.',
    say: 'Say: \u201cThis person has neuromuscular disease and cannot clear the airway.\u201d Say what you have tried.',
  },
  equipment: {
    row: 'Ventilator stopped, and needed now?',
    page: '/urgent/equipment-stopped/',
    signs: 'Has the ventilator stopped, and is the person unable to manage without it?',
    act: 'Call the emergency number now, and ventilate by hand with the bag and mask kept by the bed. Find the fault afterwards.',
    say: 'Say: \u201cThis person depends on a ventilator, and the ventilator has stopped. We are ventilating them by hand.\u201d',
  },
  infection: {
    row: 'Chest infection, drowsy or grey?',
    page: '/urgent/chest-infection/',
    signs: 'Is someone with a chest infection drowsy, grey, breathing fast or unable to clear the chest?',
    act: 'Call the emergency number now, and follow the infection plan while help is on its way.',
    say: 'Say: \u201cThis person has neuromuscular disease, a weak cough and a chest infection. They are at risk of carbon dioxide retention.\u201d',
  },
};

export const closingSafety =
  'Findings come from comparing readings with published criteria. Findings are not a decision. Follow the person\u2019s own plan, the prescriber\u2019s orders and your local policy. A normal number never outweighs a person who looks unwell.';
