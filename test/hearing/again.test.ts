import { describe, expect, it } from 'vitest';
import { type Known, struckAgain, type ToldStrike } from '../../core/hearing/again.ts';
import { struckBars } from '../../core/hearing/hear.ts';
import { heardAgainIn } from '../../core/hearing/soundFile.ts';
import { MODELS, soundOf, type TestBlow } from './bars.ts';

const soundOfThese = (blows: readonly TestBlow[]) => soundOf(blows, MODELS.xylophone);
const inTurn = (midi: readonly number[], velocity = 100): TestBlow[] =>
  midi.map((one, i) => ({ at: 0.6 + 0.5 * i, midi: one, velocity }));
const bars = (blows: readonly TestBlow[], told: readonly ToldStrike[], set: Known['set'] = []) =>
  struckAgain(soundOfThese(blows), { told, set }).struck.map(({ sounding }) => sounding);

describe('hearing once more', () => {
  it('by who knows nothing is hearing', () => {
    const sound = soundOfThese(inTurn([72, 76.44, 79, 74, 72]));
    expect(struckAgain(sound, { told: [], set: [] })).toEqual({ struck: struckBars(sound), out: [] });
    const file = { name: 'a.wav', recording: sound };
    expect(heardAgainIn(file, { told: [], set: [] })).toMatchObject({ ok: true, value: { out: [] } });
  });

  it('a bar out of tune, told once, is that bar wherever it is struck, and in doubt no more', () => {
    const blows = inTurn([72, 76.44, 79, 76.44, 74, 76, 84, 72, 76.44]);
    const before = struckBars(soundOfThese(blows));
    expect(before.map(bar => bar.sounding)).toEqual([72, 76, 79, 76, 74, 76, 84, 72, 76]);
    const told = [{ at: 1.1, heard: 76, sounding: 77 }];
    const again = struckAgain(soundOfThese(blows), { told, set: [] });
    const after = again.struck;
    // The bar that is in tune stays what it is.
    expect(after.map(bar => bar.sounding)).toEqual([72, 77, 79, 77, 74, 76, 84, 72, 77]);
    expect(after.map(bar => bar.nextBest)).toEqual(Array(9).fill(undefined));
    expect(after.map(bar => [bar.at, bar.velocity])).toEqual(before.map(bar => [bar.at, bar.velocity]));
    expect(heardAgainIn({ name: 'a.wav', recording: soundOfThese(blows) }, { told, set: [] })).toEqual({
      ok: true,
      value: again,
    });
    // And where the set was learnt otherwise, too.
    const set = [72, 74, 76, 77, 79, 84].map(sounding => ({ sounding, pitch: sounding }));
    expect(bars(blows, told, set)).toEqual([72, 77, 79, 77, 74, 76, 84, 72, 77]);
    expect(bars(blows, [], [{ sounding: 75, pitch: 76 }])[5]).toBe(75);
  });

  it('a bar out of tune that still rings when it is struck again, too', () => {
    const blows = [72, 79, 74, 76.44, 76.44, 76.44, 76.44].map((midi, i) => ({
      at: [0.6, 1.1, 1.6, 2.1, 2.17, 2.24, 2.8][i] ?? 0,
      midi,
      velocity: [100, 100, 100, 100, 60, 90, 50][i] ?? 0,
    }));
    expect(bars(blows, [{ at: 2.1, heard: 76, sounding: 77 }])).toEqual([72, 79, 74, 77, 77, 77, 77]);
  });

  it('an octave told once is told where it sounds so again, and nowhere else', () => {
    // C with its soft octave in the same moment is heard as C; told to be the octave, so is the other such moment.
    const soft = { midi: 84, velocity: 46 };
    const [hard, both] = [inTurn([72, 84, 72, 84, 76, 79, 72, 72, 72, 79]), [3.6, 4.1]];
    const blows = [
      ...hard.map(blow => (blow.midi === 84 ? { ...blow, velocity: 46 } : { ...blow, velocity: 112 })),
      ...both.map(at => ({ ...soft, at })),
    ];
    expect(bars(blows, [])).toEqual([72, 84, 72, 84, 76, 79, 72, 72, 72, 79]);
    const told = [{ at: 3.6, heard: 72, sounding: 84 }];
    expect(bars(blows, told)).toEqual([72, 84, 72, 84, 76, 79, 84, 84, 72, 79]);
  });

  it('a soft strike told to be none says how loud a neighbour is; a loud one says nothing of others', () => {
    const blows = inTurn([72, 76, 79, 74, 72, 81, 84, 76]).map((blow, i) => ({
      ...blow,
      velocity: [100, 100, 43, 100, 41, 60, 100, 100][i] ?? 100,
    }));
    expect(bars(blows, [])).toHaveLength(8);
    expect(bars(blows, [{ at: 1.6, heard: 79 }])).toEqual([72, 76, 74, 81, 84, 76]);
    const { out } = struckAgain(soundOfThese(blows), { told: [{ at: 1.6, heard: 79 }], set: [] });
    expect(out.map(bar => bar.sounding)).toEqual([79, 72]);
    // One just as soft is theirs as well.
    const alike = inTurn([72, 76, 79, 74, 72, 81, 84, 79]).map((blow, i) => ({
      ...blow,
      velocity: i === 2 || i === 7 ? 43 : 100,
    }));
    expect(bars(alike, [{ at: 1.6, heard: 79 }])).toEqual([72, 76, 74, 72, 81, 84]);
    expect(bars(blows, [{ at: 2.6, heard: 72 }])).toEqual([72, 76, 79, 74, 81, 84, 76]);
    expect(bars(blows, [{ at: 1.1, heard: 76 }])).toEqual([72, 79, 74, 72, 81, 84, 76]);
  });

  it('of two bars in one moment the one that is meant; of a moment without a strike none', () => {
    const blows = [...inTurn([72, 74, 76, 79]), { at: 1.1, midi: 81, velocity: 100 }];
    const after = (told: ToldStrike) => [...bars(blows, [told])].sort((a, b) => a - b);
    expect(after({ at: 1.1, heard: 74 })).toEqual([72, 76, 79, 81]);
    expect(after({ at: 1.1, heard: 81 })).toEqual([72, 74, 76, 79]);
    expect(after({ at: 1.1, heard: 81, sounding: 69 })).toEqual([69, 72, 74, 76, 79]);
    expect(after({ at: 1.35, heard: 74 })).toEqual([72, 74, 76, 79, 81]);
  });
});
