import type { ControlSeen, Refit, RefitProposal } from '../model/refit.ts';

/** A refit for `--json`: undefined members become null, so that each is always there. */
export function refitJson({ proposals, plain, left, stays, ...rest }: Refit): object {
  return {
    ...rest,
    // No other proposal is left to cost anything.
    bound: rest.bound === Infinity ? null : rest.bound,
    proposals: proposals.map(proposalJson),
    plain,
    left,
    stays: stays.map(({ action, controls }) => ({ action, controls: controls.map(controlJson) })),
  };
}

function proposalJson({ holds, kept, moved, dropped, changes, ...rest }: RefitProposal): object {
  return {
    ...rest,
    holds: holds.map(({ only, from, to, why, counts }) => ({
      only,
      from: from === undefined ? null : controlJson(from),
      to: to === undefined ? null : controlJson(to),
      ...(why === undefined ? {} : { why }),
      counts,
    })),
    kept: kept.map(placedJson),
    moved: moved.map(placedJson),
    dropped: dropped.map(({ freeing, from, ...one }) => ({
      ...one,
      from: from.map(controlJson),
      freeing: freeing.map(({ giveUp, controls }) => ({ giveUp, controls: controls.map(controlJson) })),
    })),
    changes: changes.map(({ before, line, ...change }) => ({ ...change, before: before ?? null, line: line ?? null })),
  };
}

function placedJson({ from, to, ...rest }: RefitProposal['kept'][number]): object {
  return { ...rest, from: from.map(controlJson), to: to.map(controlJson) };
}

function controlJson({ position, label }: ControlSeen): object {
  return { position, label: label ?? null };
}
