declare namespace App {
  interface Locals {
    /** of the page that is being drawn */
    references?: import('./page-references.ts').NumberedSource[];
    /** whether the page has printed the styles of its drawings */
    drawn?: boolean;
    /** a list of criteria on it can be narrowed to one disease */
    narrowed?: true;
  }
}
