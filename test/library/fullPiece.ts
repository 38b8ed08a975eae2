import { fraction } from '../../core/foundation/fraction.ts';
import { key } from '../../core/foundation/key.ts';
import { metre } from '../../core/foundation/metre.ts';
import type { Piece } from '../../core/piece/piece.ts';

const click = { metre: metre(5, 8), beats: [0, 0.75, 1.25] };

/** An invented piece that uses every field there is, absent ones too where they may be. */
export const fullPiece = (id = 'piece-1', title = 'Ferry bell — ♭ 木琴'): Piece => ({
  id,
  title,
  codeName: 'Heron',
  className: '8 Kestrel',
  instrument: 'marimba',
  take: {
    id: 'take-1',
    capturedAt: '2026-01-05T09:00:00.000Z',
    source: 'midi',
    from: 'Pads “left”',
    click,
    latency: 4.5,
    strikes: [
      { at: 0.01, pitch: 60, velocity: 90, until: 0.2 },
      { at: 0.1 + 0.2, pitch: 64, velocity: 71 },
    ],
    lengthsMean: false,
  },
  hints: {
    metre: metre(5, 8),
    tempo: 92.25,
    grid: 'triplet',
    swingTolerance: 'low',
    pins: [{ strike: 0, onset: fraction(-1, 8) }],
    firstBeatStrike: 0,
    taps: [0, 0.5, 1],
    letRing: true,
    free: false,
  },
  reading: {
    metre: metre(5, 8),
    tempo: 92.25,
    upbeat: fraction(1, 8),
    swing: { ratio: 1.75, unit: fraction(1, 8) },
    grid: 'automatic',
    notes: [
      {
        onset: fraction(-1, 8),
        duration: fraction(1, 8),
        pitch: 60,
        strike: 0,
        doubt: 0.4,
        elsewhere: [fraction(1, 12)],
      },
      { onset: fraction(0), duration: fraction(1, 4), pitch: 64, strike: 1, doubt: 0 },
    ],
    dropped: [1],
    misfit: 18.75,
    confidence: 0.83,
    reason: 'swung quavers',
    beats: [0, 0.65],
    firstBeat: 0,
    period: 2,
  },
  edits: [
    { kind: 'move', note: 0, onset: fraction(1, 16) },
    { kind: 'length', note: 0, duration: fraction(3, 16) },
    { kind: 'pitch', note: 1, pitch: 65 },
    { kind: 'delete', note: 1 },
    { kind: 'rest', note: 0 },
    { kind: 'add', note: -1, onset: fraction(1, 2), duration: fraction(1, 8), pitch: 67 },
  ],
  key: key('B', 'minor pentatonic', -1),
  keyChosen: true,
  motifBars: { from: 0, to: 2 },
  plan: {
    parts: [
      { id: 'p1', instrument: 'marimba' },
      { id: 'p2', instrument: 'glockenspiel' },
    ],
    statements: [
      { id: 's1', part: 'p1', onset: fraction(0), chain: [], times: 2 },
      {
        id: 's2',
        part: 'p2',
        onset: fraction(5, 8),
        chain: [
          { kind: 'transpose', by: 'scale', steps: -2 },
          { kind: 'octave', octaves: 1 },
          { kind: 'augment', factor: fraction(2) },
          { kind: 'diminish', factor: fraction(3, 2) },
          { kind: 'invert', by: 'semitone', axis: 60.5 },
          { kind: 'invert', by: 'scale' },
          { kind: 'retrograde' },
          { kind: 'fragment', from: fraction(0), to: fraction(1, 4) },
        ],
        times: 1,
        leader: 's1',
        detached: [{ onset: fraction(0), duration: fraction(1, 8), degree: 28, alter: -1 }],
      },
    ],
    tempo: 84,
    letters: [{ bar: 1, letter: 'A' }],
    nextId: 3,
  },
});
