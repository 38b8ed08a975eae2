import { describe, expect, test } from 'vitest';
import { isNatural } from '../../core/foundation/pitch.ts';
import { type INSTRUMENT_IDS, INSTRUMENTS } from '../../core/instruments/instruments.ts';
import {
  toneBarsOf,
  toneBarState,
  withToneBar,
  withEnds,
  withExchange,
} from '../../core/playable/toneBarSet.ts';
import { CLASSROOM_SETS, concertSet } from '../../core/playable/presets.ts';
import { chooseSet, newMusicRoom, seatOf, setFor, setsFor } from '../../core/playable/musicRoom.ts';
import { toneBarName, soundsWords } from '../../core/playable/words.ts';

const of = (id: string): (typeof CLASSROOM_SETS)[number] => {
  const set = CLASSROOM_SETS.find(s => s.id === id);
  if (set === undefined) throw new Error(id);
  return set;
};
const ALTO = of('alto-xylophone');

describe('bar sets by orchestration handbooks and makers’ tables, classroom bars from memory', () => {
  test('classroom: written C4 to A5, 13 naturals [from memory there]', () => {
    for (const set of CLASSROOM_SETS) {
      const bars = toneBarsOf(set);
      expect(bars).toHaveLength(13);
      expect(bars.every(isNatural)).toBe(true);
      expect(bars.map(toneBarName)).toEqual([
        'C4',
        'D4',
        'E4',
        'F4',
        'G4',
        'A4',
        'B4',
        'C5',
        'D5',
        'E5',
        'F5',
        'G5',
        'A5',
      ]);
    }
  });

  test('F♯4, F♯5 and B♭4 are exchange bars [from memory there], each for its natural', () => {
    expect(ALTO.exchange.map(e => [toneBarName(e.pitch), toneBarName(e.inPlaceOf)])).toEqual([
      ['F♯4', 'F4'],
      ['B♭4', 'B4'],
      ['F♯5', 'F5'],
    ]);
    const sharp = withExchange(ALTO, 66, true);
    expect(toneBarsOf(sharp)).toHaveLength(13);
    expect(toneBarState(sharp, 66)).toBe('there');
    expect(toneBarState(sharp, 65)).toBe('replaced');
    expect(toneBarState(withExchange(sharp, 66, false), 65)).toBe('there');
  });

  test('sounding octaves: soprano +1, alto 0, bass −1; soprano glockenspiel +2, alto +1', () => {
    expect(Object.fromEntries(CLASSROOM_SETS.map(s => [s.id, s.soundsAbove]))).toEqual({
      'soprano-xylophone': 12,
      'alto-xylophone': 0,
      'bass-xylophone': -12,
      'soprano-metallophone': 12,
      'alto-metallophone': 0,
      'bass-metallophone': -12,
      'soprano-glockenspiel': 24,
      'alto-glockenspiel': 12,
    });
    expect(soundsWords(of('bass-xylophone'))).toBe('sounds an octave lower than written');
    expect(soundsWords(ALTO)).toBe('sounds as written');
  });

  test('concert: xylophone written F3 to C7, vibraphone F3 to F6, glockenspiel G3 to C6, chromatic', () => {
    const ends = (id: (typeof INSTRUMENT_IDS)[number]): string[] => {
      const bars = toneBarsOf(concertSet(id));
      expect(bars).toHaveLength(INSTRUMENTS[id].high - INSTRUMENTS[id].low + 1);
      return [toneBarName(bars[0] ?? 0), toneBarName(bars.at(-1) ?? 0)];
    };
    expect(ends('xylophone')).toEqual(['F3', 'C7']);
    expect(ends('vibraphone')).toEqual(['F3', 'F6']);
    expect(ends('glockenspiel')).toEqual(['G3', 'C6']);
    expect(ends('marimba')).toEqual(['A2', 'C7']);
  });

  test('pentatonic on C: F and B lifted off leave 10 bars of 13 (common practice, no source)', () => {
    const bars = [65, 71, 77].reduce((set, pitch) => withToneBar(set, pitch, 'lifted'), ALTO);
    expect(toneBarsOf(bars)).toHaveLength(10);
    expect(toneBarState(bars, 65)).toBe('lifted');
    expect(toneBarState(withToneBar(bars, 65, 'missing'), 65)).toBe('missing');
    expect(toneBarState(withToneBar(bars, 65, 'there'), 65)).toBe('there');
  });

  test('ends are naturals that do not cross; beyond them is no bar', () => {
    const low = withEnds(ALTO, 57, 76);
    expect([toneBarState(low, 57), toneBarState(low, 77), toneBarState(low, 56)]).toEqual([
      'there',
      'above',
      'below',
    ]);
    expect(withEnds(ALTO, 58, 76)).toBe(ALTO);
    expect(withEnds(ALTO, 79, 65)).toBe(ALTO);
    expect(toneBarState(withEnds(ALTO, 67, 81), 66)).toBe('below');
  });
});

describe('a room', () => {
  const two = {
    parts: [
      { id: 'p1', instrument: 'xylophone' },
      { id: 'p2', instrument: 'marimba' },
      { id: 'p3', instrument: 'xylophone' },
    ],
  } as const;

  test('starts with the concert set for every part; a choice is kept by player, not by piece', () => {
    const room = newMusicRoom('r1', 'Music room');
    expect(two.parts.map(p => setFor(room, two, p).id)).toEqual([
      'concert-xylophone',
      'concert-marimba',
      'concert-xylophone',
    ]);
    expect(two.parts.map(p => seatOf(two, p))).toEqual(['xylophone', 'marimba', 'xylophone 2']);
    const chosen = chooseSet(room, two, two.parts[2], 'bass-xylophone');
    expect(two.parts.map(p => setFor(chosen, two, p).id)).toEqual([
      'concert-xylophone',
      'concert-marimba',
      'bass-xylophone',
    ]);
  });

  test('a set that is gone gives way to the concert set', () => {
    const room = chooseSet(newMusicRoom('r1', 'Music room'), two, two.parts[0], 'lost');
    expect(setFor(room, two, two.parts[0]).id).toBe('concert-xylophone');
  });

  test('offers the instrument’s own sets first', () => {
    const offered = setsFor(newMusicRoom('r1', 'Music room'), 'glockenspiel').map(s => s.id);
    expect(offered.slice(0, 3)).toEqual([
      'concert-glockenspiel',
      'soprano-glockenspiel',
      'alto-glockenspiel',
    ]);
    expect(offered).toHaveLength(12);
  });
});
