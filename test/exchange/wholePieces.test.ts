import { describe, expect, it } from 'vitest';
import { musicXml } from '../../core/exchange/musicXml.ts';
import { standardMidi } from '../../core/exchange/standardMidi.ts';
import { textScore } from '../../core/exchange/textScore.ts';
import { fraction, toNumber } from '../../core/foundation/fraction.ts';
import { tactus } from '../../core/foundation/metre.ts';
import { pitchName } from '../../core/foundation/pitch.ts';
import { INSTRUMENTS } from '../../core/instruments/instruments.ts';
import { perform } from '../../core/playback/perform.ts';
import { notesOfStatement } from '../../core/plan/statement.ts';
import { drawnNotes, foundNotes, foundStrokes, loaded, strokesOfMidi } from './byVerovio.ts';
import { WHOLE_PIECES } from './wholePieces.ts';
import { schema, schemaErrors } from './w3cSchema.ts';

/** Names of the notes of a part of a MusicXML file, in order, tied ones once; read with a pattern of its own. */
const namesInXml = (xml: string, part: number): string[] => {
  const own = xml.split(/<part id=/)[part + 1] ?? '';
  return [...own.matchAll(/<note\b[\s\S]*?<\/note>/g)].flatMap(([note]) => {
    const step = /<step>(\w)<\/step>/.exec(note)?.[1];
    if (step === undefined || note.includes('<tie type="stop"/>')) return [];
    const alter = Number(/<alter>(-?\d)<\/alter>/.exec(note)?.[1] ?? 0);
    const octave = /<octave>(\d)<\/octave>/.exec(note)?.[1] ?? '';
    return [`${step}${{ '-2': '𝄫', '-1': '♭', '1': '♯', '2': '𝄪' }[String(alter)] ?? ''}${octave}`];
  });
};

describe.each(WHOLE_PIECES)('the whole piece $name', ({ motif, plan, score }) => {
  it('has the same notes on the page, in MusicXML as Verovio reads it, in MIDI and in sound', async () => {
    const reader = await loaded(musicXml(score));
    const drawn = drawnNotes(score);
    expect(drawn.length).toBeGreaterThan(40);
    expect(foundNotes(reader)).toEqual(drawn);
    // Verovio plays swing straight: it is compared without, and with it the same bars are struck.
    const { swing, ...straight } = score;
    const strokes = foundStrokes(reader);
    expect(strokesOfMidi(Buffer.from(standardMidi(straight)), 1)).toEqual(strokes);
    const pitches = (of: readonly string[]): string[] => of.map(s => s.split(' ')[1] ?? '').sort();
    const played = strokesOfMidi(Buffer.from(standardMidi(score)), 1);
    expect(pitches(played)).toEqual(pitches(strokes));
    if (swing !== undefined) expect(played).not.toEqual(strokes);
    const crotchetsASecond = (score.tempo / 60) * toNumber(tactus(score.metre)) * 4;
    const sounding = perform(straight).events.map(
      e => `${(e.seconds * crotchetsASecond).toFixed(1)} ${String(e.pitch)}`,
    );
    expect(sounding.sort()).toEqual(strokes);
  });

  it('has the same names of notes in the plan, on the page, in MusicXML and in words', () => {
    const xml = musicXml(score);
    const words = textScore(score, 'british').join('\n');
    score.parts.forEach((part, p) => {
      const planned = plan.statements
        .filter(s => s.part === part.id)
        .flatMap(s => notesOfStatement(motif, s, plan))
        .map(n => pitchName(n.pitch));
      const drawn = part.bars.flatMap(bar =>
        bar.symbols.flatMap(s => (s.tiedFrom ? [] : s.pitches.map(n => pitchName(n.spelled)))),
      );
      expect([...drawn].sort()).toEqual([...planned].sort());
      expect(namesInXml(xml, p)).toEqual(drawn);
      for (const name of new Set(drawn)) expect(words).toContain(name);
      expect(xml).toContain(`<part-name>${INSTRUMENTS[part.instrument].name}</part-name>`);
    });
  });

  it('names each statement in MusicXML as on the page', () => {
    const xml = musicXml(score);
    expect(score.brackets.length).toBeGreaterThan(1);
    for (const { text } of score.brackets) {
      expect(xml).toContain(`>${text}</words>`);
    }
  });

  it('ends with the bar its upbeat left short', () => {
    const last = score.parts[0]?.bars.at(-1);
    const whole = toNumber(score.parts[0]?.bars[1]?.length ?? fraction(0));
    expect(toNumber(last?.length ?? fraction(0))).toBeCloseTo(whole - toNumber(score.upbeat), 9);
  });
});

it.runIf(schema !== undefined)('whole pieces are valid against the W3C schema', async () => {
  expect(await schemaErrors(new Map(WHOLE_PIECES.map(p => [p.name, musicXml(p.score)])))).toEqual([]);
});

it('whole pieces are of one to four parts, in all metres, signs and kinds that are asked for', () => {
  const metres = new Set(
    WHOLE_PIECES.map(p => `${String(p.motif.metre.upper)}/${String(p.motif.metre.lower)}`),
  );
  expect([...metres].sort()).toEqual(['12/8', '3/4', '4/4', '5/8', '6/8']);
  expect(new Set(WHOLE_PIECES.map(p => p.score.parts.length))).toEqual(new Set([1, 2, 3, 4]));
  expect(WHOLE_PIECES.filter(p => p.score.upbeat.n > 0)).toHaveLength(3);
  expect(WHOLE_PIECES.filter(p => p.score.swing !== undefined)).toHaveLength(1);
});
