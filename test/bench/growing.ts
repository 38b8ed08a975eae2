import { fraction } from '../../core/foundation/fraction.ts';
import { key, toScale } from '../../core/foundation/key.ts';
import { metre } from '../../core/foundation/metre.ts';
import type { Motif } from '../../core/motif/motif.ts';
import { entriesFor, ENTRY_CHANGES } from '../../core/entries/entries.ts';
import { grow } from '../../core/growing/grow.ts';
import type { Growth } from '../../core/growing/growth.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import { copySection, lastBar } from '../../core/growing/sections.ts';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';
import { median, ms, printTable, timesOf } from './figures.ts';

const C = key('C');
/** An invented idea of two bars, ten notes. */
const IDEA: Motif = {
  key: C,
  metre: metre(4, 4),
  length: fraction(2),
  notes: [0, 3, 6, 8, 12, 16, 18, 22, 24, 28].map((at, i, all) => ({
    onset: fraction(at, 16),
    duration: fraction((all[i + 1] ?? 32) - at, 16),
    ...toScale(C, 72 + ((i * 5) % 12)),
  })),
};

const value = <T>(result: { ok: true; value: T } | { ok: false; problem: { what: string } }): T => {
  if (!result.ok) throw new Error(result.problem.what);
  return result.value;
};

/** Four parts over 32 bars, grown as a pupil would. */
const large = (): Plan => {
  let plan = value(
    grow(IDEA, firstPlan('xylophone', 96), { kind: 'repeat', statement: 's1', times: 4 }),
  ).plan;
  for (const [instrument, beats] of [
    ['marimba', 2],
    ['glockenspiel', 4],
    ['vibraphone', 8],
  ] as const)
    plan = value(
      grow(IDEA, plan, { kind: 'canon', statement: 's1', to: { newPart: instrument }, beats }),
    ).plan;
  while (lastBar(IDEA, plan) < 32) {
    const at = lastBar(IDEA, plan) + 1;
    plan = value(
      copySection(IDEA, plan, { from: 1, to: 8, toBar: at, copies: 1, steps: 1, letter: true }),
    ).plan;
  }
  return plan;
};

/** Prints how long trying a treatment takes up to its score, and the map of the entry finder. */
export const growing = (): void => {
  const plan = large();
  const end = fraction(lastBar(IDEA, plan));
  const steps: readonly (readonly [string, Growth])[] = [
    [
      'retrograde after the end',
      {
        kind: 'state',
        statement: 's1',
        treatments: [{ kind: 'retrograde' }],
        to: { part: 'p1' },
        onset: end,
      },
    ],
    [
      'another section of 8 bars',
      { kind: 'section', from: 1, to: 8, toBar: lastBar(IDEA, plan) + 1, copies: 1, steps: 2, letter: true },
    ],
    ['part exchange in 8 bars', { kind: 'exchange', from: 9, to: 16, pair: ['p1', plan.parts[1]?.id ?? ''] }],
  ];
  console.log(
    `  A treatment tried in a piece of 4 parts and ${String(lastBar(IDEA, plan))} bars, up to the score (drawing: see engraving).`,
  );
  printTable(
    ['', 'ms'],
    steps.map(([name, step]) => [
      name,
      ms(
        median(
          timesOf(30, () => {
            scoreOfPlan(IDEA, value(grow(IDEA, plan, step)).plan, '', '');
          }),
        ),
      ),
    ]),
  );
  const [leader] = plan.statements;
  if (leader === undefined) throw new Error('no statement');
  console.log('  The map of entries for an idea of two bars, in that piece.');
  printTable(
    ['', 'entries', 'ms'],
    [
      ['every beat, as it is', { halves: false, changes: ['plain'] as const }] as const,
      ['every half beat, all four ways', { halves: true, changes: ENTRY_CHANGES }] as const,
    ].map(([name, options]) => {
      const count = entriesFor(IDEA, plan, leader, 'marimba', undefined, options).length;
      const times = timesOf(20, () => {
        entriesFor(IDEA, plan, leader, 'marimba', undefined, options);
      });
      return [name, String(count), ms(median(times))];
    }),
  );
};
