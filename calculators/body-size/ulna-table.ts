/**
 * Height from ulna length as the BAPEN screening-tool sheet prints it, in cm.
 * Columns: ulna; men under 65; men of 65 and over; women under 65; women of 65 and over.
 *
 * @source  all 112 heights checked against the table held as a data set by a hospital research unit, which
 *          names a book appendix (doi 10.1002/9781118786529.app10). The sheet's own page was not reached.
 */
export const ulnaTable: readonly (readonly [number, number, number, number, number])[] = [
  [32, 194, 187, 184, 184],
  [31.5, 193, 186, 183, 183],
  [31, 191, 184, 181, 181],
  [30.5, 189, 182, 180, 179],
  [30, 187, 181, 179, 178],
  [29.5, 185, 179, 177, 176],
  [29, 184, 178, 176, 175],
  [28.5, 182, 176, 175, 173],
  [28, 180, 175, 173, 171],
  [27.5, 178, 173, 172, 170],
  [27, 176, 171, 170, 168],
  [26.5, 175, 170, 169, 166],
  [26, 173, 168, 168, 165],
  [25.5, 171, 167, 166, 163],
  [25, 169, 165, 165, 161],
  [24.5, 167, 163, 163, 160],
  [24, 166, 162, 162, 158],
  [23.5, 164, 160, 161, 156],
  [23, 162, 159, 159, 155],
  [22.5, 160, 157, 158, 153],
  [22, 158, 156, 156, 152],
  [21.5, 157, 154, 155, 150],
  [21, 155, 152, 154, 148],
  [20.5, 153, 151, 152, 147],
  [20, 151, 149, 151, 145],
  [19.5, 149, 148, 150, 144],
  [19, 148, 146, 148, 142],
  [18.5, 146, 145, 147, 140],
];
