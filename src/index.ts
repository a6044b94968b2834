/** The library's surface: open a workspace, run its profiles, render what they tell. */
export { openProject, profilePaths, runProfile, withoutTwins } from './pipeline.ts';
export type { CardFolders, ProfileRun, Project, RunOptions } from './pipeline.ts';
export { nodeFiles } from './files/node.ts';
export type { Files } from './files/contract.ts';
export { hostPath } from './model/paths.ts';
export type { Finding } from './diagnostics/finding.ts';
export { findingJson } from './report/json-findings.ts';
export { sarif } from './report/sarif.ts';
export { syntaxes } from './syntax/registry.ts';
export type { Change, Syntax, Tree } from './syntax/contract.ts';
export { settings } from './vocabulary/registry.ts';
