/** The notes of a release: its part of the changelog, or what has not been released yet, and where it was built from. */
export function releaseNotes(changelog: string, version: string, commit: string): string {
  const parts = changelog.split(/^## /m).slice(1);
  const part = parts.find((one) => one.startsWith(`${version}`)) ?? parts.find((one) => one.startsWith('Unreleased'));
  if (part === undefined) throw new Error(`CHANGELOG.md has no part for ${version}, nor one called Unreleased`);
  const lines = part.slice(part.indexOf('\n')).trim();
  return `# Tidemark ${version}

Built from commit ${commit}.

${lines}

## What is in it

- \`tidemark-${version}.zip\`: the site. Unpack it and read READ-ME.txt.
- \`tidemark-${version}-demonstration.zip\`: the same with the agreement of an invented clinic built in. It is for looking at only; do not use it.
- \`tidemark-${version}.sbom.cdx.json\`: every package in it and every package used to build it (CycloneDX).
- \`SHA256SUMS\`: check with \`sha256sum -c SHA256SUMS\`. Checksums show whether a copy is complete. They prove nothing about who made it.

For trained clinicians and the students they supervise. Findings come from comparing readings with published criteria. Findings are not a decision.
`;
}
