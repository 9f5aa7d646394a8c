/** The folder under which the second build of the tests is served. */
export const subBase = '/handbook/';
