/** The folder under which the second build of the tests is served. */
export const subBase = '/handbook/';

/** What the second build has built in, as a clinic's own copy has its agreement. */
export const builtInFile = 'content/agreement/demo-tern-valley.yaml';
