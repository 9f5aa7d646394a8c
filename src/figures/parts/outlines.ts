/** Outlines that several drawings share, for `placed()`: letters M, C, L and Z, absolute places. */

/** A head from the side, facing right, 100 wide and 128 high: nape, skull, brow, nose, lips, chin, throat. */
export const head =
  'M28 128C29 114 25 106 19 96C7 80 4 58 11 40C19 17 42 6 61 10C77 13 86 23 87 36C87.5 41 86 45 86.5 49C88 55 93 62 97 68C99 72 97 74 92 75C89.5 75.5 89 76.5 89 78C90 80.5 91.5 82 91.3 84.5C91 86.5 88.5 87.3 86 88C89 88.6 91 90.5 90.3 93.5C89.6 96 87.6 96.5 87.8 99C88 102 89.5 104 88.5 109C87.5 115 80 118 73 117.5C66 117 60 115 56 113C57 119 59 124 62 128Z';
export const ear = 'M38 58C31 56 29 66 33 72C35 76 36 80 40 79C44 77 43 72 45 68C47 62 44 59 38 58Z';
export const hair =
  'M22 98C8 82 4 58 11 40C19 17 42 6 61 10C74 12.5 82 19 85 28C73 26 63 31 57 43C53 51 52 57 46 60C38 53 28 58 29 69C30 76 30 86 27 95Z';
/** an open eye and the brow above it */
export const eye = 'M73 51C77 48 81 48 84 50C81 54 77 54 73 51Z';
export const brow = 'M71 43C76 39 81 39 85 41';
/**
 * Someone on the back, 200 long, the couch at height 0: all but the head and the front of chest and belly, which some drawings
 * move. Open between hip and shoulder; `chest` and `belly` close it.
 */
export const lying =
  'M104 -24C122 -20 150 -20 178 -20L184 -34C185 -38 192 -38 192 -33L190 -8C190 -3 186 0 180 0L2 0C-6 0 -8 -6 -8 -12C-8 -18 -4 -22 6 -24';
export const chest = 'M6 -24C14 -41 44 -43 60 -31';
export const belly = 'M60 -31C68 -48 96 -46 104 -24';
/** what is under both, and an arm along the side */
export const under = 'M6 -24L60 -31L104 -24L104 -14L6 -14Z';
export const arm = 'M16 -15C40 -8 60 -8 106 -9';
/** a hand seen from its back, fingers up, 42 wide and 62 high */
export const hand =
  'M10 62L8 40C2 36 -2 27 0 23C3 20 7 25 10 29L10 9C10 4 16 4 16 9L17 24L18 3C18 -2 24 -2 24 3L25 24L27 5C27 0 33 0 33 5L33 26L35 12C36 7 41 8 41 13L38 44L34 62Z';
/** a trunk from the front, 50 being its middle line: shoulders, arms cut off, hips */
export const trunk =
  'M40 0C40 8 34 12 22 15C6 18 0 26 -2 40L-4 66L12 68L15 56C18 76 16 92 14 106C12 118 10 128 10 140L90 140C90 128 88 118 86 106C84 92 82 76 85 56L88 68L104 66L102 40C100 26 94 18 78 15C66 12 60 8 60 0Z';
/** the lower edge of the ribs, and the navel */
export const ribs = 'M16 92C26 90 42 78 50 64C58 78 74 90 84 92';
