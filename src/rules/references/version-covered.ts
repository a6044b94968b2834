import { satisfiesVersions } from '../../dialect/frontend-version.ts';
import type { Finding } from '../../diagnostics/finding.ts';
import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { Rule } from '../contract.ts';

/** A frontend's version that its dialect does not cover: its keys may have other names. Unknown is a legal answer. */
export const versionCovered: Rule = {
  name: 'version-covered',
  codes: ['version-not-covered'],
  check({ resolved }) {
    const findings: Finding[] = [];
    for (const instance of resolved.instances) {
      const { version, dialect } = instance;
      if (version === undefined || satisfiesVersions(version, dialect.data['for-versions'])) continue;
      findings.push(
        makeFinding('version-not-covered', {
          place: instance.place,
          related: [{ place: dialect.place(['for-versions']), note: 'the versions that the dialect covers' }],
          instance: instance.name,
          detail: `${instance.name} is at ${version}; the dialect ${dialect.data.dialect} ${dialect.data.version} covers ${dialect.data['for-versions']}. Other versions may spell their settings otherwise.`,
          wayOut: 'Take a dialect version that covers it, or correct the version, or teach the dialect with learn.',
        }),
      );
    }
    return findings;
  },
};
