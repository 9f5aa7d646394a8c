/** The folder that the second build is made for. */
export const subBase = '/handbook/';
