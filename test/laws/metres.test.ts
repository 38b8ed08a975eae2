import fc from 'fast-check';
import { parseMidi } from 'midi-file';
import { describe, expect, it } from 'vitest';
import { PPQ, standardMidi } from '../../core/exchange/standardMidi.ts';
import { musicXml } from '../../core/exchange/musicXml.ts';
import { isBarline } from '../../core/foundation/barring.ts';
import { add, equal, show, subtract, toNumber } from '../../core/foundation/fraction.ts';
import { barLength, type Metre } from '../../core/foundation/metre.ts';
import { changeMetre } from '../../core/growing/changeMetre.ts';
import { lastBar } from '../../core/growing/sections.ts';
import type { Motif } from '../../core/motif/motif.ts';
import { barringIn } from '../../core/plan/keys.ts';
import type { Plan } from '../../core/plan/plan.ts';
import { notesOfStatement, statementEnd, statementStart } from '../../core/plan/statement.ts';
import { perform, notesOf } from '../../core/playback/perform.ts';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';
import { metreAt } from '../../core/score/metreAt.ts';
import { anyBarredPiece, anyMetre } from '../growing/anyBarredPlan.ts';

const scoreOf = (motif: Motif, plan: Plan): ReturnType<typeof scoreOfPlan> =>
  scoreOfPlan(motif, plan, 'Ferry bell', 'Heron');

/** A random piece with another metre from one of its bars on; the letter there was there before. */
const anyChange = fc
  .record({ piece: anyBarredPiece, to: anyMetre, place: fc.double({ min: 0, max: 1, noNaN: true }) })
  .map(({ piece: { motif, plan }, to, place }) => {
    const last = lastBar(motif, plan);
    return { motif, plan, to, bar: 2 + Math.min(last - 2, Math.floor(place * (last - 1))) };
  })
  .filter(({ motif, plan }) => lastBar(motif, plan) > 1);

const changed = (motif: Motif, plan: Plan, bar: number, to: Metre): Plan | undefined => {
  const result = changeMetre(motif, plan, bar, to);
  return result.ok ? result.value : undefined;
};

/** Onsets in crotchets from the first note or rest of the score, by an independent walk of the file's text. */
const onsetsInXml = (xml: string): readonly string[][] =>
  [...xml.matchAll(/<part id[^]*?<\/part>/g)].map(([part]) => {
    let divisions = 1;
    let at = 0;
    let chordAt = 0;
    const onsets: string[] = [];
    for (const [element] of part.matchAll(/<divisions>\d+|<note[ >][^]*?<\/note>/g)) {
      if (element.startsWith('<divisions>')) divisions = Number(element.slice(11));
      else if (!element.includes('<grace')) {
        const length = Number(/<duration>(\d+)/.exec(element)?.[1] ?? 0) / divisions;
        const isChord = element.includes('<chord/>');
        if (!element.includes('<rest') && !element.includes('<tie type="stop"'))
          onsets.push((isChord ? chordAt : at).toFixed(4));
        if (!isChord) {
          chordAt = at;
          at += length;
        }
      }
    }
    return onsets.sort();
  });

describe('another metre from a bar on, over random pieces', () => {
  it('keeps every note, its written length and its pitch, and what sounds together in a section', () => {
    fc.assert(
      fc.property(anyChange, ({ motif, plan, bar, to }) => {
        const now = changed(motif, plan, bar, to);
        if (now === undefined) return;
        plan.statements.forEach((s, i) => {
          const other = now.statements[i];
          if (other === undefined) throw new Error('a statement is lost');
          const by = subtract(other.onset, s.onset);
          const told = (p: Plan, one: typeof s) =>
            notesOfStatement(motif, one, p).map(n => [show(n.duration), n.ref, n.pitch]);
          expect(told(now, other)).toEqual(told(plan, s));
          expect(by.n).toBeGreaterThanOrEqual(0);
          // Whatever began with it begins with it still.
          for (const [k, also] of plan.statements.entries())
            if (equal(also.onset, s.onset))
              expect(show(now.statements[k]?.onset ?? s.onset)).toBe(show(other.onset));
        });
        for (const part of now.parts) {
          const own = now.statements
            .filter(s => s.part === part.id)
            .sort((a, b) => toNumber(a.onset) - toNumber(b.onset));
          own.slice(1).forEach((s, i) => {
            const before = own[i];
            if (before !== undefined)
              expect(toNumber(statementEnd(motif, before))).toBeLessThanOrEqual(
                toNumber(statementStart(motif, s)) + 1e-9,
              );
          });
        }
      }),
      { numRuns: 150 },
    );
  });

  it('lets everything that is bound to a bar begin on a barline, with its music', () => {
    fc.assert(
      fc.property(anyChange, ({ motif, plan, bar, to }) => {
        const now = changed(motif, plan, bar, to);
        if (now === undefined) return;
        const before = barringIn(motif, plan);
        const barring = barringIn(motif, now);
        const bound = [...plan.letters, ...(plan.keys ?? []), ...(plan.tempi ?? [])].map(one => one.bar);
        for (const index of new Set(bound)) {
          const at = add(before[0]?.from ?? { n: 0, d: 1 }, {
            n: barLength(motif.metre).n * index,
            d: barLength(motif.metre).d,
          });
          for (const [i, s] of plan.statements.entries())
            if (equal(s.onset, at)) expect(isBarline(barring, now.statements[i]?.onset ?? at)).toBe(true);
        }
        expect(now.letters.length).toBeGreaterThanOrEqual(plan.letters.length);
        expect(now.keys?.length).toBe(plan.keys?.length);
        expect(now.tempi?.length).toBe(plan.tempi?.length);
        // As saved files take them.
        for (const { length } of now.pauses ?? []) {
          expect(16 % length.d).toBe(0);
          expect(toNumber(length)).toBeLessThan(24);
        }
      }),
      { numRuns: 150 },
    );
  });

  it('taken away gives the piece back, its letter apart', () => {
    fc.assert(
      fc.property(anyChange, anyMetre, ({ motif, plan, bar, to }, second) => {
        const lettered = plan.letters.some(l => l.bar === bar - 1);
        const now = changed(motif, plan, bar, to);
        if (now === undefined) return;
        const back = changed(motif, now, bar, motif.metre);
        expect(back && { ...back, letters: [] }).toEqual({ ...plan, letters: [] });
        if (lettered) expect(back).toEqual(plan);
        // Another in its place is the same as that one alone.
        const other = changed(motif, now, bar, second);
        const alone = changed(motif, plan, bar, second);
        if (other !== undefined && alone !== undefined)
          expect({ ...other, letters: [] }).toEqual({ ...alone, letters: [] });
      }),
      { numRuns: 200 },
    );
  });

  it('fills every bar of every part to its metre', () => {
    let silent = 0;
    fc.assert(
      fc.property(anyChange, ({ motif, plan, bar, to }) => {
        const now = changed(motif, plan, bar, to);
        if (now === undefined) return;
        const score = scoreOf(motif, now);
        for (const part of score.parts) {
          let at = score.upbeat.n > 0 ? { n: -score.upbeat.n, d: score.upbeat.d } : { n: 0, d: 1 };
          for (const one of part.bars) {
            expect(show(one.start)).toBe(show(at));
            const filled = one.symbols.reduce((so, s) => add(so, s.duration), { n: 0, d: 1 });
            expect(show(filled)).toBe(show(one.length));
            // A full bar in which nothing sounds has one rest in its middle, whatever its metre (common practice, no source).
            if (one.number > 0 && one.symbols.every(s => s.pitches.length === 0)) {
              silent += 1;
              if (equal(one.length, barLength(metreAt(score, one.index))))
                expect(one.symbols.map(s => s.wholeBar)).toEqual([true]);
            }
            const full = one.number > 0 && one.index < score.barCount - 1;
            if (full) expect(show(one.length)).toBe(show(barLength(metreAt(score, one.index))));
            at = add(at, one.length);
          }
        }
      }),
      { numRuns: 100, seed: 12 },
    );
    expect(silent).toBeGreaterThan(20);
  });

  it('page, sound, MIDI and MusicXML have the same onsets', () => {
    fc.assert(
      fc.property(anyChange, ({ motif, plan, bar, to }) => {
        const now = changed(motif, { ...plan, tempi: [] }, bar, to);
        if (now === undefined) return;
        const score = scoreOf(motif, now);
        const crotchets = (one: number): string => one.toFixed(4);
        const page = score.parts.map(part =>
          notesOf(part, score.upbeat)
            .map(n => crotchets(4 * toNumber(n.onset)))
            .sort(),
        );
        // Without marks every note value stays as long as it was: one tempo, told in crotchets of the first metre.
        const first = scoreOf(motif, { ...plan, tempi: [] });
        const perCrotchet =
          perform(first).duration /
          (4 *
            toNumber(
              first.parts[0]?.bars.reduce((so, b) => add(so, b.length), { n: 0, d: 1 }) ?? { n: 1, d: 1 },
            ));
        const sound = score.parts.map(part =>
          perform(score)
            .events.filter(e => e.part === part.id)
            .map(e => crotchets(e.seconds / perCrotchet))
            .sort(),
        );
        expect(sound).toEqual(page);
        expect(onsetsInXml(musicXml(score))).toEqual(page);
        const midi = parseMidi(standardMidi(score))
          .tracks.slice(1)
          .map(track => {
            let ticks = 0;
            return track
              .flatMap(event => {
                ticks += event.deltaTime;
                return event.type === 'noteOn' && event.velocity > 0 ? [crotchets(ticks / PPQ)] : [];
              })
              .sort();
          });
        expect(midi).toEqual(page);
      }),
      { numRuns: 60 },
    );
  });
});
