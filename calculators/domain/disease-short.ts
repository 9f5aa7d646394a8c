import type { Disease } from './diseases.ts';

/** Short form for the header that is always in sight; in a file of its own, since every page carries it. */
export const diseaseShort: Record<Disease, string> = {
  als: 'ALS/MND',
  dmd: 'Duchenne',
  sma: 'SMA',
  dm1: 'Myotonic dystrophy',
  pompe: 'Pompe',
  'post-polio': 'Post-polio',
  fshd: 'FSHD',
  lgmd: 'LGMD',
  cmd: 'CMD',
  sci: 'Cord injury',
  'other-chronic': 'Other slow NMD',
  gbs: 'Guillain-Barr\u00e9',
  mg: 'Myasthenia',
  'sci-acute': 'Acute cord injury',
};
