import { parseMidi } from 'midi-file';
import { describe, expect, it } from 'vitest';
import { playedMidi } from '../../core/exchange/playedMidi.ts';
import { expectedStrokes, overAndOver } from '../../core/rehearse/expected.ts';
import { keptPlaying } from '../../core/rehearse/keep.ts';
import { playingAlong } from '../../core/rehearse/result.ts';
import type { HeardStrike } from '../../core/take/memory.ts';
import { canonOf, exactly, ideaOf } from './scores.ts';

// Read back by midi-file, an independent parser: ticks through its own tempo events to seconds.

const score = canonOf(
  ideaOf([
    [2, 0],
    [1, 4],
    [3, 2],
    [2, 1],
  ]),
);
const KEPT = '2026-01-01T00:00:00.000Z';

/** Onsets in seconds and pitches of each track, by its name. */
const tracksOf = (bytes: Uint8Array): Record<string, [seconds: number, pitch: number][]> => {
  const { header, tracks } = parseMidi(bytes);
  const ppq = header.ticksPerBeat ?? 480;
  const tempo = tracks.flat().find(event => event.type === 'setTempo');
  const perTick = (tempo?.type === 'setTempo' ? tempo.microsecondsPerBeat : 500_000) / 1e6 / ppq;
  return Object.fromEntries(
    tracks.map(track => {
      let ticks = 0;
      let name = '';
      const notes: [number, number][] = [];
      for (const event of track) {
        ticks += event.deltaTime;
        if (event.type === 'trackName') name = event.text;
        if (event.type === 'noteOn') notes.push([ticks * perTick, event.noteNumber]);
      }
      return [name, notes];
    }),
  );
};

describe('what was played, kept', () => {
  it.each([0.4, 0.8, 1.2])(
    'at %f of the speed, page and playing lie in one file, each with its own times',
    speed => {
      const bars = { first: 1, last: 2 };
      const expected = expectedStrokes(score, { part: 'p1', bars, speed });
      const late = exactly(expected).map((stroke, i) => ({
        ...stroke,
        at: stroke.at + (i === 2 ? 0.09 : 0),
      }));
      const played = playingAlong(score, {
        bars,
        speed,
        loop: false,
        lasted: 20,
        ended: true,
        strikes: { p1: late, p2: [] },
      });
      const kept = keptPlaying(score, played, 'k1', KEPT);
      expect(kept.parts.map(part => part.part)).toEqual(['p1']);
      // Two bars of four beats at 120, from nought on.
      const beats = kept.parts[0]?.take.click?.beats ?? [];
      expect(beats.map(at => Math.round(at * speed * 2))).toEqual([0, 1, 2, 3, 4, 5, 6, 7]);
      const tracks = tracksOf(playedMidi(score, kept));
      const written = tracks['Xylophone'] ?? [];
      const playing = tracks['Xylophone, as it was played'] ?? [];
      expect(written).toHaveLength(16);
      expect(playing).toHaveLength(8);
      // Bars 2 and 3 of four strokes each; the third was 90 ms late.
      playing.forEach(([at, pitch], i) => {
        const [page, same] = written[i + 4] ?? [NaN, NaN];
        expect(pitch).toBe(same);
        expect(Math.abs(at - page - (i === 2 ? 0.09 : 0))).toBeLessThan(0.001);
      });
    },
  );

  it('of several times through, the one that was told', () => {
    const bars = { first: 0, last: 0 };
    const once = expectedStrokes(score, { part: 'p1', bars, speed: 1 });
    const two = exactly(overAndOver(once, 2, 2)).map((s, i) => ({ ...s, at: s.at + (i >= 4 ? 0.02 : 0.1) }));
    const played = playingAlong(score, {
      bars,
      speed: 1,
      loop: true,
      lasted: 4.1,
      ended: false,
      strikes: { p1: two },
    });
    expect(played.time).toBe(2);
    const [part] = keptPlaying(score, played, 'k1', KEPT).parts;
    const times = part?.take.strikes.map(s => Number(s.at.toFixed(3)));
    expect(times).toEqual(once.map(s => Number((s.seconds + 0.02).toFixed(3))));
    expect(part?.take.click?.beats).toEqual([0, 0.5, 1, 1.5]);
  });

  it('a first stroke before its barline is that time through’s, and what was struck on is named', () => {
    const bars = { first: 0, last: 0 };
    const once = expectedStrokes(score, { part: 'p1', bars, speed: 1 });
    const keptOf = (names: readonly string[], sources: readonly HeardStrike['source'][]) => {
      const strikes = exactly(overAndOver(once, 2, 2)).map((s, i) => ({
        ...s,
        at: s.at - 0.03,
        by: { name: names[i % names.length] ?? '', source: sources[i % sources.length] ?? 'midi' },
      }));
      const what = { bars, speed: 1, loop: true, lasted: 4.1, ended: false, strikes: { p1: strikes } };
      return keptPlaying(score, playingAlong(score, what), 'k1', KEPT).parts[0]?.take;
    };
    const take = keptOf(['Pads'], ['midi']);
    expect(take?.strikes.map(s => s.at.toFixed(2))).toEqual(once.map(s => (s.seconds - 0.03).toFixed(2)));
    expect([take?.from, take?.source]).toEqual(['Pads', 'midi']);
    const both = keptOf(['Pads', 'Keyboard'], ['midi', 'keys']);
    expect([both?.from, both?.source]).toEqual(['Pads, Keyboard', 'mixed']);
  });

  it('a blow that answers nothing stands where it was struck', () => {
    const bars = { first: 1, last: 1 };
    const once = expectedStrokes(score, { part: 'p1', bars, speed: 1 });
    const stray = { at: 1.75, pitch: 80, velocity: 90 };
    const strikes = { p1: [...exactly(once), stray] };
    const [part] = playingAlong(score, {
      bars,
      speed: 1,
      loop: false,
      lasted: 2,
      ended: true,
      strikes,
    }).parts;
    // Seven of the eight quavers of the second bar.
    expect(part?.noticed.filter(one => one.kind === 'added')).toEqual([
      { kind: 'added', played: stray, place: 1 + 7 / 8 },
    ]);
  });
});
