import { describe, expect, test } from 'vitest';
import { fraction } from '../../core/foundation/fraction.ts';
import { key } from '../../core/foundation/key.ts';
import { editByHand } from '../../core/growing/detach.ts';
import type { Plan } from '../../core/plan/plan.ts';
import { withToneBar, withExchange } from '../../core/playable/toneBarSet.ts';
import { checkPlayable, type PlayableCheck } from '../../core/playable/check.ts';
import { mendPlan, mendRoom } from '../../core/playable/remedies.ts';
import { changeSet, chooseSet, newMusicRoom, type MusicRoom } from '../../core/playable/musicRoom.ts';
import { lackWords, remedyWords } from '../../core/playable/words.ts';
import type { Motif } from '../../core/motif/motif.ts';
import { clockOf, idea, planFor } from './ideas.ts';

const ROOM = newMusicRoom('r1', 'Music room');
const check = (motif: Motif, plan: Plan, room: MusicRoom = ROOM): PlayableCheck =>
  checkPlayable(motif, plan, room, clockOf(motif, plan));
/** Problems and their remedies as the panel says them. */
const said = (motif: Motif, plan: Plan, room: MusicRoom = ROOM): readonly (readonly string[])[] =>
  check(motif, plan, room).parts.flatMap(part =>
    part.problems.map(p => [
      ...lackWords(part.set, p.toneBars),
      ...p.remedies.map(r => remedyWords(r, part.set)),
    ]),
  );
const on = (plan: Plan, set: string, room: MusicRoom = ROOM): MusicRoom => {
  const [part] = plan.parts;
  if (part === undefined) throw new Error('no part');
  return chooseSet(room, plan, part, set);
};

describe('worked by hand', () => {
  test('F3 on a glockenspiel, whose lowest bar is G3 (orchestration handbooks): one step does, an octave too', () => {
    const low = idea([
      [0, 2, 53],
      [2, 2, 57],
      [4, 4, 60],
    ]);
    const plan = planFor('glockenspiel');
    expect(said(low, plan)).toEqual([
      ['F3 is below the lowest bar, G3', 'move it up an octave', 'move it up a step'],
    ]);
    expect(said(low, planFor('xylophone'))).toEqual([]);
  });

  test('the same notes are played by a xylophone but not by a classroom one: C4 is its lowest', () => {
    const low = idea([
      [0, 2, 53],
      [2, 2, 57],
      [4, 4, 60],
    ]);
    const plan = planFor('xylophone');
    expect(said(low, plan, on(plan, 'alto-xylophone'))).toEqual([
      ['F3 and A3 are below the lowest bar, C4', 'move it up an octave', 'move it up 4 steps'],
    ]);
  });

  test('G major on a classroom xylophone wants F♯ for F; where F is needed too it is not offered', () => {
    const G = key('G');
    const sharp = idea(
      [
        [0, 2, 67],
        [2, 2, 66],
        [4, 4, 69],
      ],
      1,
      G,
    );
    const plan = planFor('xylophone');
    const room = on(plan, 'alto-xylophone');
    expect(said(sharp, plan, room)).toEqual([
      ['F♯4 is not put in', 'put in F♯4 for F4', 'move it up a step'],
    ]);
    const both = idea(
      [
        [0, 2, 67],
        [2, 2, 66],
        [4, 4, 65],
      ],
      1,
      G,
    );
    expect(said(both, plan, room).flat()).not.toContain('put in F♯4 for F4');
    const [problem] = check(sharp, plan, room).parts[0]?.problems ?? [];
    const [put] = problem?.remedies ?? [];
    if (put === undefined) throw new Error('no remedy');
    expect(said(sharp, plan, mendRoom(room, put))).toEqual([]);
  });

  test('too low and sharp too: an octave up and F♯5 for F5, in one press', () => {
    const G = key('G');
    const motif = idea(
      [
        [0, 2, 55],
        [2, 2, 66],
        [4, 4, 67],
      ],
      1,
      G,
    );
    const plan = planFor('xylophone');
    const room = on(plan, 'alto-xylophone');
    expect(said(motif, plan, room)[0]?.slice(0, 3)).toEqual([
      'G3 is below the lowest bar, C4',
      'F♯4 is not put in',
      'move it up an octave, and put in F♯5 for F5',
    ]);
    const [both] = check(motif, plan, room).parts[0]?.problems[0]?.remedies ?? [];
    if (both === undefined) throw new Error('no remedy');
    expect(check(motif, mendPlan(motif, plan, both), mendRoom(room, both)).count).toBe(0);
  });

  test('an exchange bar another part needs the natural of is not offered', () => {
    const G = key('G');
    const sharp = idea(
      [
        [0, 2, 67],
        [2, 2, 66],
        [4, 4, 69],
      ],
      1,
      G,
    );
    const natural = {
      ...sharp,
      others: { m2: { notes: idea([[0, 8, 65]], 1, G).notes, length: fraction(1) } },
    };
    const plan: Plan = {
      ...planFor('xylophone'),
      statements: [
        { id: 's1', part: 'p1', onset: fraction(0), chain: [], times: 1 },
        { id: 's2', part: 'p1', onset: fraction(1), chain: [], times: 1, motif: 'm2' },
      ],
    };
    expect(said(natural, plan, on(plan, 'alto-xylophone')).flat()).not.toContain('put in F♯4 for F4');
  });

  test('a lifted bar is put back; a missing one is not', () => {
    const plan = planFor('xylophone');
    const motif = idea([
      [0, 4, 60],
      [4, 4, 65],
    ]);
    const room = (state: 'lifted' | 'missing'): MusicRoom =>
      changeSet(on(plan, 'alto-xylophone'), 'alto-xylophone', set => withToneBar(set, 65, state));
    expect(said(motif, plan, room('lifted'))[0]?.slice(0, 2)).toEqual(['F4 is lifted off', 'put F4 back on']);
    expect(said(motif, plan, room('missing'))[0]?.slice(0, 2)).toEqual([
      'F4 is missing in this room',
      'move it up an octave',
    ]);
  });

  test('a chromatic run on naturals only: named, and no move is offered, for none helps', () => {
    const plan = planFor('xylophone');
    const motif = idea([
      [0, 1, 60],
      [1, 1, 61],
      [2, 1, 62],
      [3, 1, 63],
      [4, 4, 64],
    ]);
    expect(said(motif, plan, on(plan, 'alto-xylophone'))).toEqual([['there is no bar for D♭4 and E♭4']]);
  });

  test('bars to set out, each once, low to high, grace notes too', () => {
    const motif = idea([
      [0, 2, 72, 71],
      [2, 2, 76],
      [4, 2, 72],
      [6, 2, 67],
    ]);
    const plan = {
      ...planFor('xylophone'),
      statements: planFor('xylophone').statements.map(s => ({ ...s, times: 4 })),
    };
    expect(check(motif, plan).parts[0]?.needed.map(b => b.name)).toEqual(['G4', 'B4', 'C5', 'E5']);
  });

  test('the whole piece goes where every part can play', () => {
    const motif = idea([
      [0, 4, 53],
      [4, 4, 60],
    ]);
    const plan: Plan = {
      ...planFor('glockenspiel'),
      parts: [
        { id: 'p1', instrument: 'glockenspiel' },
        { id: 'p2', instrument: 'xylophone' },
      ],
      statements: [
        { id: 's1', part: 'p1', onset: fraction(0), chain: [], times: 1 },
        { id: 's2', part: 'p2', onset: fraction(0), chain: [], times: 1 },
      ],
    };
    const [problem] = check(motif, plan).parts[0]?.problems ?? [];
    const whole = problem?.remedies.find(r => r.kind === 'piece');
    expect(whole).toEqual({ kind: 'piece', steps: 1 });
    if (whole === undefined) return;
    const mended = mendPlan(motif, plan, whole);
    expect(mended.statements.map(s => s.chain)).toEqual([
      [{ kind: 'transpose', by: 'scale', steps: 1 }],
      [{ kind: 'transpose', by: 'scale', steps: 1 }],
    ]);
    expect(check(motif, mended).count).toBe(0);
  });

  test('a move back undoes a move: up an octave after down an octave leaves no trace', () => {
    const motif = idea([[0, 8, 60]]);
    const plan: Plan = {
      ...planFor('glockenspiel'),
      statements: [
        { id: 's1', part: 'p1', onset: fraction(0), chain: [{ kind: 'octave', octaves: -1 }], times: 1 },
      ],
    };
    const mended = mendPlan(motif, plan, { kind: 'octave', statement: 's1', octaves: 1 });
    expect(mended.statements[0]?.chain).toEqual([]);
  });

  test('a statement changed by hand moves with its own notes', () => {
    const motif = idea([
      [0, 4, 60],
      [4, 4, 64],
    ]);
    const untied = editByHand(motif, planFor('glockenspiel'), 's1', { kind: 'steps', note: 0, steps: -5 });
    expect(said(motif, untied)[0]?.[0]).toBe('E3 is below the lowest bar, G3');
    const [problem] = check(motif, untied).parts[0]?.problems ?? [];
    const [up] = problem?.remedies ?? [];
    if (up === undefined) throw new Error('no remedy');
    const mended = mendPlan(motif, untied, up);
    expect(check(motif, mended).count).toBe(0);
    expect(mended.statements[0]?.detached).toBeDefined();
  });

  test('exchange bars of a room are there for every piece', () => {
    const plan = planFor('xylophone');
    const room = changeSet(on(plan, 'alto-xylophone'), 'alto-xylophone', s => withExchange(s, 66, true));
    expect(said(idea([[0, 8, 66]]), plan, room)).toEqual([]);
  });
});
