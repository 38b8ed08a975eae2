import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fraction } from '../../core/foundation/fraction.ts';
import { key, toScale } from '../../core/foundation/key.ts';
import { isFlat, type LikeBy, unlikeness } from '../../core/library/likeness.ts';
import { type Outline, outlineOfMotif, outlineOfStrikes } from '../../core/library/outline.ts';
import { notesOf, TUNES } from '../motif/tunes.ts';
import { seeded } from '../reading/invented.ts';

const C = key('C');

/** A tune as it is written, its values in 192nds of a semibreve. */
const written = (notes: readonly { pitch: number; weight: number }[], values = 1, higher = 0): Outline => {
  let at = 0;
  return outlineOfMotif({
    key: C,
    notes: notes.map(({ pitch, weight }) => {
      const onset = fraction(Math.round(at * 12), 48);
      at += weight * values;
      return { ...toScale(C, pitch + higher), onset, duration: fraction(1, 48) };
    }),
  });
};

/** The same, struck by somebody who keeps time to `spread` seconds. */
const struck = (
  notes: readonly { pitch: number; weight: number }[],
  { beat = 0.5, spread = 0, higher = 0, chance = (): number => 0.5 } = {},
): Outline => {
  let at = 3;
  return outlineOfStrikes(
    notes.map(({ pitch, weight }) => {
      const strike = { at: at + spread * (chance() + chance() + chance() - 1.5) * 2, pitch: pitch + higher };
      at += weight * beat;
      return strike;
    }),
  );
};

const found = (asked: Outline, by: LikeBy): readonly string[] =>
  TUNES.map(tune => ({ name: tune.name, far: unlikeness(asked, written(notesOf(tune)), by) }))
    .filter(({ far }) => far <= 0.25)
    .sort((a, b) => a.far - b.far)
    .map(({ name }) => name);

describe('the outline of a tune', () => {
  it('is the Parsons code that is printed for it', () => {
    // Denys Parsons, The Directory of Tunes and Musical Themes (1975): *RURURDDRDRDRD and *RUURDDDDRUURDR for these
    // two; codes from memory, tunes as typed in tunes.ts.
    const codes = ['Twinkle', 'Ode to Joy'].map(
      name => TUNES.filter(tune => tune.name.startsWith(name)).map(tune => written(notesOf(tune)).contour)[0],
    );
    expect(codes).toEqual(['rururddrdrdrd', 'ruurddddruurdr']);
  });

  it('of chords is their highest note, written and struck; grace notes tell nothing', () => {
    const note = (pitch: number, beat: number) => ({
      ...toScale(C, pitch),
      onset: fraction(beat, 4),
      duration: fraction(1, 4),
    });
    const chords = [note(60, 0), note(67, 0), note(64, 1), note(72, 2), note(48, 2)];
    const withGrace = chords.map(n => ({ ...n, grace: toScale(C, 84) }));
    expect(outlineOfMotif({ key: C, notes: withGrace })).toEqual({ contour: 'du', gaps: [48, 48] });
    const hands = [60, 67, 64, 72, 48].map((pitch, i) => ({ pitch, at: [0, 0.02, 0.5, 1, 1.025][i] ?? 0 }));
    expect(outlineOfStrikes(hands).contour).toBe('du');
    expect(outlineOfStrikes([])).toEqual({ contour: '', gaps: [] });
  });
});

describe('finding a tune among thirty-six', () => {
  const openings = TUNES.map(tune => ({ name: tune.name, notes: notesOf(tune).slice(0, 10) }));

  it.each(['both', 'contour', 'rhythm'] as const)(
    'its opening finds it by %s, at another tempo, in another key and in half values',
    by => {
      for (const { name, notes } of openings) {
        expect(found(written(notes, 0.5, 5), by), name).toContain(name);
        expect(found(struck(notes, { beat: 0.83, higher: -3 }), by), name).toContain(name);
      }
    },
  );

  it('is first, nearly always, as an uneven player strikes it, and few others are shown', () => {
    // 25 ms either way is an uneven pupil; the project's measure, not a published one.
    const chance = seeded(11);
    const ranks = openings.map(({ name, notes }) => {
      const all = found(struck(notes, { spread: 0.025, chance }), 'both');
      return { rank: all.indexOf(name), shown: all.length };
    });
    expect(ranks.filter(r => r.rank < 0)).toEqual([]);
    expect(ranks.filter(r => r.rank === 0).length).toBeGreaterThanOrEqual(35);
    expect(ranks.reduce((sum, r) => sum + r.shown, 0) / ranks.length).toBeLessThan(5);
  });
});

describe('likeness', () => {
  const outline = fc
    .array(fc.record({ letter: fc.constantFrom('u', 'd', 'r'), gap: fc.integer({ min: 1, max: 96 }) }), {
      minLength: 4,
      maxLength: 24,
    })
    .map((steps): Outline => ({ contour: steps.map(s => s.letter).join(''), gaps: steps.map(s => s.gap) }));
  const by = fc.constantFrom<LikeBy>('rhythm', 'contour', 'both');

  it('is the same both ways, nought for itself at any tempo, and between 0 and 1 (law)', () => {
    fc.assert(
      fc.property(
        outline,
        outline,
        by,
        fc.double({ min: 0.01, max: 100, noNaN: true }),
        (a, b, how, pace) => {
          const far = unlikeness(a, b, how);
          expect(unlikeness(b, a, how)).toBe(far);
          expect(far).toBeGreaterThanOrEqual(0);
          expect(far).toBeLessThanOrEqual(1);
          expect(unlikeness(a, { ...a, gaps: a.gaps.map(g => g * pace) }, how)).toBeCloseTo(0, 9);
        },
      ),
    );
  });

  it('is nought for what is played twice, and for a piece of it (law)', () => {
    fc.assert(
      fc.property(outline, by, (a, how) => {
        // What stays on one bar stays there between the playings, too.
        const between = isFlat(a) ? 'r' : 'u';
        const twice = { contour: a.contour + between + a.contour, gaps: [...a.gaps, 40, ...a.gaps] };
        expect(unlikeness(twice, a, how)).toBeCloseTo(0, 9);
      }),
    );
  });

  it('one note changed costs a step or two of the contour, no more (law)', () => {
    fc.assert(
      fc.property(outline, fc.nat(23), (a, at) => {
        const i = at % a.contour.length;
        const changed = { ...a, contour: `${a.contour.slice(0, i)}r${a.contour.slice(i + 1)}` };
        expect(unlikeness(a, changed, 'contour')).toBeLessThanOrEqual(1 / a.contour.length + 1e-9);
      }),
    );
  });

  it('one step too many, or too few, costs one step (law)', () => {
    fc.assert(
      fc.property(outline, fc.nat(23), fc.constantFrom('u', 'd', 'r'), (a, at, letter) => {
        const i = at % a.contour.length;
        const more = {
          contour: a.contour.slice(0, i) + letter + a.contour.slice(i),
          gaps: [...a.gaps, 1],
        };
        expect(unlikeness(more, a, 'contour')).toBeLessThanOrEqual(1 / a.contour.length + 1e-9);
        // As long as the other, one step within is one too many.
        const longer = { contour: `${a.contour}u`, gaps: more.gaps };
        expect(unlikeness(more, longer, 'contour')).toBeLessThanOrEqual(1 / more.contour.length + 1e-9);
      }),
    );
  });

  it('of a rhythm on one bar is told by the rhythm alone', () => {
    const tune = { contour: 'uudrd', gaps: [2, 1, 1, 4, 4] };
    const clapped = { contour: 'rrrrr', gaps: [0.5, 0.25, 0.25, 1, 1] };
    expect(unlikeness(tune, clapped, 'both')).toBe(0.1);
    expect(unlikeness(clapped, { ...clapped, gaps: [2, 1, 1, 4, 4] }, 'both')).toBe(0);
    expect(unlikeness(tune, clapped, 'contour')).toBeGreaterThan(0.5);
    expect(unlikeness(tune, { ...clapped, gaps: [0.5, 0.5, 0.5, 0.5, 0.5] }, 'both')).toBeGreaterThan(0.25);
  });
});
