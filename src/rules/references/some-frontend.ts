import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { Rule } from '../contract.ts';

/** A profile that names no frontend builds nothing, which a newcomer must not have to guess. */
export const someFrontend: Rule = {
  name: 'some-frontend',
  codes: ['no-frontends'],
  check({ resolved }) {
    if (resolved.frontends.length > 0) return [];
    return [
      makeFinding('no-frontends', {
        place: resolved.profile.keyPlace(['profile']),
        detail: 'The profile names no frontend and no operating system, so that nothing is built from it.',
        wayOut: 'List the copies that are installed under frontends:, each with its dialect, version and root.',
      }),
    ];
  },
};
