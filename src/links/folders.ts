/** The handbook's folders, in the order that a therapist's questions come. */
export const folders: Record<string, { title: string; about: string }> = {
  urgent: { title: 'Urgent', about: 'Someone is in trouble now' },
  measuring: { title: 'Measuring', about: 'Each test: what it tells you, how to do it well, what goes wrong' },
  breathing: { title: 'Breathing support', about: 'When ventilation is due, and making it work' },
  cough: { title: 'Cough', about: 'Whether the cough is strong enough, and what helps' },
  secretions: { title: 'Secretions', about: 'Saliva, thick mucus, suction, choking' },
  oxygen: { title: 'Oxygen', about: 'Why oxygen is different in weak muscles, and the calculations' },
  home: { title: 'At home and out', about: 'Equipment, power, travel, carers, wishes' },
  diseases: { title: 'Diseases', about: 'The course of breathing in each, and what to check' },
  money: { title: 'Paying for it', about: 'Payer rules, kept apart from clinical need' },
  learn: { title: 'Learning', about: 'Ten lessons for a student' },
};
