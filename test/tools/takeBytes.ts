import { Midi } from '../../core/foundation/midiLibrary.ts';

/** A strike of an invented take: crotchets from the first barline, MIDI pitch, velocity (80 unless told). */
export type Struck = readonly [at: number, pitch: number, velocity?: number];

export interface TakeFile {
  readonly bpm: number;
  readonly strikes: readonly Struck[];
  /** With a tempo map that means something: the reader takes it for a click. */
  readonly click: boolean;
}

/** The bytes of a standard MIDI file with these strikes. */
export const takeBytes = (take: TakeFile): Buffer => {
  const midi = new Midi();
  // Without a click the file's tempo means nothing, as recorders write it.
  const fileBpm = take.click ? take.bpm : 120;
  midi.header.fromJSON({
    name: '',
    ppq: 960,
    meta: [],
    keySignatures: [],
    tempos: [{ ticks: 0, bpm: fileBpm }],
    timeSignatures: take.click ? [{ ticks: 0, timeSignature: [4, 4] }] : [],
  });
  const track = midi.addTrack();
  for (const [at, pitch, velocity = 80] of take.strikes) {
    const ticks = Math.round((at * fileBpm * 960) / take.bpm);
    track.addNote({ midi: pitch, ticks, durationTicks: 90, velocity: velocity / 127 });
  }
  return Buffer.from(midi.toArray());
};
