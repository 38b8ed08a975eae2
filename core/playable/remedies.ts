import { scaleMidi, type ScalePitch, scaleSize } from '../foundation/key.ts';
import type { MidiPitch } from '../foundation/units.ts';
import type { Motif } from '../motif/motif.ts';
import type { Treatment } from '../motif/treatment.ts';
import type { KeyInForce } from '../plan/keys.ts';
import { keysOfStatement } from '../plan/keysOfStatement.ts';
import type { Plan } from '../plan/plan.ts';
import { passageOf, type Statement, treatedFurther } from '../plan/statement.ts';
import { type ToneBarSet, toneBarState, withToneBar, withExchange } from './toneBarSet.ts';
import { changeSet, type MusicRoom, setFor } from './musicRoom.ts';

/** One thing that makes an unplayable statement playable; each is one step that can be undone. */
export type Remedy =
  /** With bars put in, where the octave alone does not do. */
  | {
      readonly kind: 'octave';
      readonly statement: string;
      readonly octaves: number;
      readonly bars?: ToneBarsPut;
    }
  | { readonly kind: 'steps'; readonly statement: string; readonly steps: number }
  /** Every statement of the piece, so that all parts can be played. */
  | { readonly kind: 'piece'; readonly steps: number }
  | ({ readonly kind: 'bars' } & ToneBarsPut);

/** Bars of a set put back on, and exchange bars put in. */
export interface ToneBarsPut {
  readonly set: string;
  readonly exchange: readonly MidiPitch[];
  readonly back: readonly MidiPitch[];
}

/** Moves are looked for this far. */
const MOST_OCTAVES = 4;

/** 1, -1, 2, -2, ... : the nearest move first, up before down. */
const nearestFirst = (most: number): readonly number[] =>
  Array.from({ length: most }, (_, i) => i + 1).flatMap(k => [k, -k]);

/** A pitch of a statement as the motif's scale tells it, and the key it is in. */
interface Struck extends ScalePitch {
  readonly inKey: KeyInForce;
}

/** What a statement strikes, each once. */
const bare = (motif: Motif, plan: Plan, statement: Statement): readonly Struck[] => {
  const seen = new Map<string, Struck>();
  const keys = keysOfStatement(motif, statement, plan);
  passageOf(motif, statement).notes.forEach((note, i) => {
    for (const inKey of new Set(keys.flatMap(time => time[i] ?? [])))
      for (const { degree, alter } of [
        note,
        ...(note.ruff ?? []),
        ...(note.grace === undefined ? [] : [note.grace]),
        ...(note.gliss === undefined ? [] : [note.gliss.to]),
      ])
        seen.set([degree, alter, inKey.moved].join(' '), { degree, alter, inKey });
  });
  return [...seen.values()];
};

/** The bar a pitch asks for when its statement is moved by steps. */
const barOf = ({ degree, alter, inKey }: Struck, steps = 0): MidiPitch =>
  scaleMidi(inKey.sounds, { degree: degree + inKey.shift + steps, alter });

const playable = (set: ToneBarSet, notes: readonly Struck[], steps: number): boolean =>
  notes.every(note => toneBarState(set, barOf(note, steps)) === 'there');

/** What would make one statement playable, nearest moves first; each one does, and unmakes nothing else. */
export const remediesFor = (
  motif: Motif,
  plan: Plan,
  room: MusicRoom,
  statement: Statement,
  whole: number | undefined = wholePieceMove(motif, plan, room),
): readonly Remedy[] => {
  const part = plan.parts.find(p => p.id === statement.part);
  if (part === undefined) return [];
  const set = setFor(room, plan, part);
  const notes = bare(motif, plan, statement);
  const size = scaleSize(motif.key);
  const octave = nearestFirst(MOST_OCTAVES).find(k => playable(set, notes, k * size));
  const steps = nearestFirst(MOST_OCTAVES * size).find(k => playable(set, notes, k));
  const bars = barsFor(motif, plan, room, set, notes);
  return [
    ...(bars === undefined ? [] : [{ kind: 'bars', ...bars } as const]),
    ...(octave === undefined ? [] : [{ kind: 'octave', statement: statement.id, octaves: octave } as const]),
    ...(bars === undefined && octave === undefined ? octaveAndBars(motif, plan, room, statement, set) : []),
    ...(steps === undefined || steps === (octave ?? 0) * size
      ? []
      : [{ kind: 'steps', statement: statement.id, steps } as const]),
    ...(whole === undefined ? [] : [{ kind: 'piece', steps: whole } as const]),
  ];
};

/** The nearest octave in which bars put in or back do the rest. */
const octaveAndBars = (
  motif: Motif,
  plan: Plan,
  room: MusicRoom,
  statement: Statement,
  set: ToneBarSet,
): readonly Remedy[] => {
  for (const octaves of nearestFirst(MOST_OCTAVES)) {
    const remedy = { kind: 'octave', statement: statement.id, octaves } as const;
    const mended = mendPlan(motif, plan, remedy);
    const there = mended.statements.find(s => s.id === statement.id);
    const bars =
      there === undefined ? undefined : barsFor(motif, mended, room, set, bare(motif, mended, there));
    if (bars !== undefined) return [{ ...remedy, bars }];
  }
  return [];
};

/** The smallest move, in steps, of everything that makes every part playable; none for a single statement. */
export const wholePieceMove = (motif: Motif, plan: Plan, room: MusicRoom): number | undefined => {
  if (plan.statements.length < 2) return undefined;
  const all = plan.statements.flatMap(statement => {
    const part = plan.parts.find(p => p.id === statement.part);
    return part === undefined ? [] : [{ set: setFor(room, plan, part), notes: bare(motif, plan, statement) }];
  });
  return nearestFirst(MOST_OCTAVES * scaleSize(motif.key)).find(k =>
    all.every(({ set, notes }) => playable(set, notes, k)),
  );
};

/** Bars put back or exchanged, where that makes these notes playable and costs no part a bar it needs. */
const barsFor = (
  motif: Motif,
  plan: Plan,
  room: MusicRoom,
  set: ToneBarSet,
  notes: readonly Struck[],
): ToneBarsPut | undefined => {
  const needed = notes.map(note => barOf(note));
  const inState = (state: string): MidiPitch[] =>
    [...new Set(needed.filter(pitch => toneBarState(set, pitch) === state))].sort((a, b) => a - b);
  const exchange = inState('exchange');
  const back = inState('lifted');
  if (exchange.length + back.length === 0) return undefined;
  const put: ToneBarsPut = { set: set.id, exchange, back };
  const better = withBars(set, put);
  if (!playable(better, notes, 0)) return undefined;
  const costs = plan.parts
    .filter(part => setFor(room, plan, part).id === set.id)
    .flatMap(part => plan.statements.filter(s => s.part === part.id))
    .flatMap(s => bare(motif, plan, s).map(note => barOf(note)))
    .some(pitch => toneBarState(set, pitch) === 'there' && toneBarState(better, pitch) !== 'there');
  return costs ? undefined : put;
};

const withBars = (set: ToneBarSet, put: ToneBarsPut): ToneBarSet => {
  const back = put.back.reduce((so, pitch) => withToneBar(so, pitch, 'there'), set);
  return put.exchange.reduce((so, pitch) => withExchange(so, pitch, true), back);
};

/** A statement moved further; moves of one kind that follow each other are told as one. */
const moved = (motif: Motif, statement: Statement, treatment: Treatment): Statement => {
  const { chain: _, ...further } = treatedFurther(motif, statement, [treatment]);
  return { ...statement, ...further, chain: together(statement.chain, treatment) };
};

const together = (chain: readonly Treatment[], more: Treatment): readonly Treatment[] => {
  const last = chain.at(-1);
  const before = chain.slice(0, -1);
  if (last?.kind === 'octave' && more.kind === 'octave') {
    const octaves = last.octaves + more.octaves;
    return octaves === 0 ? before : [...before, { kind: 'octave', octaves }];
  }
  if (last?.kind === 'transpose' && more.kind === 'transpose' && last.by === more.by) {
    const steps = last.steps + more.steps;
    return steps === 0 ? before : [...before, { ...last, steps }];
  }
  return [...chain, more];
};

/** A remedy done to the plan; one about bars leaves it as it is. */
export const mendPlan = (motif: Motif, plan: Plan, remedy: Remedy): Plan => {
  if (remedy.kind === 'bars') return plan;
  const treatment: Treatment =
    remedy.kind === 'octave'
      ? { kind: 'octave', octaves: remedy.octaves }
      : { kind: 'transpose', by: 'scale', steps: remedy.steps };
  return {
    ...plan,
    statements: plan.statements.map(s =>
      remedy.kind === 'piece' || remedy.statement === s.id ? moved(motif, s, treatment) : s,
    ),
  };
};

/** A remedy done to the room; one about notes alone leaves it as it is. */
export const mendRoom = (room: MusicRoom, remedy: Remedy): MusicRoom => {
  const put = remedy.kind === 'bars' ? remedy : remedy.kind === 'octave' ? remedy.bars : undefined;
  return put === undefined ? room : changeSet(room, put.set, set => withBars(set, put));
};
