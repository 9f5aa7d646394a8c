/**
 * Diseases that published criteria name, in the project's own codes. `any` in a criterion means any
 * chronic neuromuscular disease; a person always has one disease, so `any` is not among these.
 */
export const diseases = [
  'als',
  'dmd',
  'sma',
  'dm1',
  'pompe',
  'post-polio',
  'fshd',
  'lgmd',
  'cmd',
  'sci',
  'other-chronic',
  'gbs',
  'mg',
  'sci-acute',
] as const;
export type Disease = (typeof diseases)[number];

export const diseaseNames: Record<Disease, string> = {
  als: 'ALS / motor neurone disease',
  dmd: 'Duchenne muscular dystrophy',
  sma: 'Spinal muscular atrophy',
  dm1: 'Myotonic dystrophy type 1',
  pompe: 'Pompe disease, late onset',
  'post-polio': 'Post-polio',
  fshd: 'Facioscapulohumeral dystrophy',
  lgmd: 'Limb-girdle dystrophy',
  cmd: 'Congenital muscular dystrophy',
  sci: 'High spinal cord injury, chronic',
  'other-chronic': 'Other slowly progressive neuromuscular disease',
  gbs: 'Guillain-Barr\u00e9 syndrome',
  mg: 'Myasthenia gravis',
  'sci-acute': 'Spinal cord injury, acute',
};

/** The name inside a sentence: 'chronic high spinal cord injury', 'late-onset Pompe disease'. */
export function diseaseInSentence(disease: Disease): string {
  if (disease === 'post-polio') return 'post-polio syndrome';
  if (disease === 'other-chronic') return 'other slowly progressive neuromuscular diseases';
  const [name = '', kind] = diseaseNames[disease].split(', ');
  const plain = /^(ALS|Duchenne|Pompe|Guillain)/.test(name) ? name : name.charAt(0).toLowerCase() + name.slice(1);
  return kind === undefined ? plain : `${kind.replace(' ', '-')} ${plain}`;
}

const acute: readonly Disease[] = ['gbs', 'mg', 'sci-acute'];

/**
 * In these only criteria that name the disease, and emergency criteria, may be shown: those for slowly progressive disease do not
 * apply.
 */
export const isAcute = (disease: Disease): boolean => acute.includes(disease);
