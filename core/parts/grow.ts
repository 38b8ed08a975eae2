import type { Fraction } from '../foundation/fraction.ts';
import { failed, ok, type Result } from '../foundation/result.ts';
import type { Motif } from '../motif/motif.ts';
import type { Treatment } from '../motif/treatment.ts';
import {
  addPart,
  addStatement,
  beatsLater,
  changeStatement,
  findStatement,
  type Plan,
  placeOf,
  timesToFill,
} from './plan.ts';
import type { InstrumentId } from './instruments.ts';
import { statementEnd } from './statement.ts';

/** Where a new statement goes: a part that is there, or a new one on an instrument. */
export type Target = { readonly part: string } | { readonly newPart: InstrumentId };

/** Everything a pupil can do to a piece in one step, as data. */
export type GrowStep =
  | { readonly kind: 'repeat'; readonly statement: string; readonly times: number }
  | {
      readonly kind: 'second-part';
      readonly statement: string;
      readonly to: Target;
      readonly bar: number;
      readonly octaves?: number;
    }
  | {
      readonly kind: 'canon';
      readonly statement: string;
      readonly to: Target;
      readonly beats: number;
      readonly octaves?: number;
    }
  | {
      readonly kind: 'imitation';
      readonly statement: string;
      readonly to: Target;
      readonly beats: number;
      readonly steps: number;
    }
  | { readonly kind: 'change'; readonly statement: string; readonly treatment: Treatment }
  | {
      readonly kind: 'state';
      readonly statement: string;
      readonly treatments: readonly Treatment[];
      readonly to: Target;
      readonly at: Fraction;
      readonly times?: number;
    }
  | { readonly kind: 'move'; readonly statement: string; readonly at: Fraction; readonly part?: string };

const withTarget = (plan: Plan, to: Target): Result<{ plan: Plan; part: string }> => {
  if ('newPart' in to) return addPart(plan, to.newPart);
  if (plan.parts.some(p => p.id === to.part)) return ok({ plan, part: to.part });
  return failed({
    kind: 'not-found',
    what: 'That part is no longer in the piece.',
    kept: 'Nothing was changed.',
    next: 'Choose another part.',
  });
};

const octaveChain = (octaves: number | undefined): readonly Treatment[] =>
  octaves === undefined || octaves === 0 ? [] : [{ kind: 'octave', octaves }];

/**
 * One step of growing a piece. The answer names the statement made or changed, so that the page
 * can show it. Fails, changing nothing, where there is no room or a number makes no sense.
 */
export const grow = (motif: Motif, plan: Plan, step: GrowStep): Result<{ plan: Plan; statement: string }> => {
  const from = findStatement(plan, step.statement);
  if (from === undefined) {
    return failed({
      kind: 'not-found',
      what: 'That statement is no longer in the piece.',
      kept: 'Nothing was changed.',
      next: 'Choose a bracket on the page and try again.',
    });
  }
  const end = statementEnd(motif, from);
  const changed = (result: Result<Plan>): Result<{ plan: Plan; statement: string }> =>
    result.ok ? ok({ plan: result.value, statement: from.id }) : result;
  const enter = (
    to: Target,
    at: Fraction,
    extra: readonly Treatment[],
    leader: string | undefined,
    times?: number,
  ): Result<{ plan: Plan; statement: string }> => {
    const target = withTarget(plan, to);
    if (!target.ok) return target;
    const chain = [...from.chain, ...extra];
    const count = times ?? (from.times === 1 ? 1 : timesToFill(motif, chain, at, end));
    const added = addStatement(motif, target.value.plan, {
      part: target.value.part,
      at,
      chain,
      times: count,
      ...(leader === undefined ? {} : { leader }),
      ...(from.motif === undefined ? {} : { motif: from.motif }),
      ...(from.detached === undefined ? {} : { detached: from.detached }),
    });
    return added.ok ? ok({ plan: added.value.plan, statement: added.value.id }) : added;
  };
  switch (step.kind) {
    case 'repeat':
      if (!Number.isInteger(step.times) || step.times < 1 || step.times > 64)
        return failed(outOfRange('1 to 64 times'));
      return changed(changeStatement(motif, plan, from.id, { times: step.times }));
    case 'second-part':
      return enter(step.to, placeOf(motif.metre, step.bar, 1), octaveChain(step.octaves), from.id);
    case 'canon':
      if (step.beats < 1) return failed(outOfRange('at least one beat later'));
      return enter(step.to, beatsLater(motif.metre, from.at, step.beats), octaveChain(step.octaves), from.id);
    case 'imitation':
      if (step.beats < 1) return failed(outOfRange('at least one beat later'));
      return enter(
        step.to,
        beatsLater(motif.metre, from.at, step.beats),
        step.steps === 0 ? [] : [{ kind: 'transpose', by: 'scale', steps: step.steps }],
        from.id,
      );
    case 'change':
      return changed(changeStatement(motif, plan, from.id, { chain: [...from.chain, step.treatment] }));
    case 'state':
      return enter(step.to, step.at, step.treatments, from.id, step.times ?? 1);
    case 'move':
      return changed(
        changeStatement(motif, plan, from.id, {
          at: step.at,
          ...(step.part === undefined ? {} : { part: step.part }),
        }),
      );
  }
};

const outOfRange = (range: string): { kind: 'out-of-range'; what: string; kept: string; next: string } => ({
  kind: 'out-of-range',
  what: 'That number cannot be used here.',
  kept: 'Nothing was changed.',
  next: `Choose ${range}.`,
});
