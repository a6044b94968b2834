import type { Proposal } from '../contract.ts';

/**
 * The roles that were said, and those besides without which a setting that is taken would be asked of nobody. Not `system`:
 * one key of its own makes no operating system of a program, which would then be asked for all of an operating system's.
 */
export function rolesOf(said: readonly string[], taken: readonly Proposal[]): readonly string[] {
  const roles = [...said];
  for (const { setting } of taken) {
    const own = setting.roles.find((role) => role !== 'system');
    if (own !== undefined && !setting.roles.some((role) => roles.includes(role))) roles.push(own);
  }
  return roles;
}
