import type { ComponentChildren } from 'preact';
import { keyName } from '../../../core/foundation/key.ts';
import {
  OFFERED_METRES,
  isCompound,
  metre,
  parseMetre,
  sameMetre,
  showMetre,
  tactus,
} from '../../../core/foundation/metre.ts';
import { valueName, valueOf } from '../../../core/foundation/noteValue.ts';
import { suggestKeys } from '../../../core/motif/suggestKey.ts';
import { barsOf, likelyMotif } from '../../../core/piece/motifOfReading.ts';
import type { Piece } from '../../../core/piece/piece.ts';
import type { Grid, Reading, SwingTolerance } from '../../../core/reading/reading.ts';
import { nameStyle } from '../../store/app.ts';
import { hint, step } from '../../store/change.ts';
import { type Choice, SentenceChoice, SentenceNumber } from '../parts/sentence.tsx';

const gridChoices = (compound: boolean): Choice[] => {
  const name = (base: 4 | 8 | 16 | 32): string => valueName({ base, dots: 0 }, nameStyle.value);
  return compound
    ? [
        { value: 'automatic', text: 'whatever fits' },
        { value: 'beat', text: `dotted ${name(4)}` },
        { value: 'half', text: name(8) },
        { value: 'quarter', text: name(16) },
        { value: 'eighth', text: name(32) },
      ]
    : [
        { value: 'automatic', text: 'whatever fits' },
        { value: 'beat', text: name(4) },
        { value: 'half', text: name(8) },
        { value: 'quarter', text: name(16) },
        { value: 'eighth', text: name(32) },
        { value: 'triplet', text: `${name(8)}, with triplets` },
        { value: 'sextuplet', text: `${name(16)}, with triplets` },
      ];
};

const SWING: readonly Choice[] = [
  { value: 'none', text: 'none' },
  { value: 'low', text: 'low' },
  { value: 'medium', text: 'medium' },
  { value: 'high', text: 'high' },
];

/** The few settings of the reader, each a sentence; changing one re-reads at once. */
export const Settings = (props: { piece: Piece; reading: Reading }): ComponentChildren => {
  const { piece, reading } = props;
  const beat = valueName(valueOf(tactus(reading.metre)) ?? { base: 4, dots: 0 }, nameStyle.value);
  const keys = suggestKeys(
    reading.notes.map(n => ({ pitch: n.pitch, weight: n.duration.n / n.duration.d })),
  ).map(s => s.key);
  const choices = keys.some(k => keyName(k) === keyName(piece.key)) ? keys : [piece.key, ...keys];
  const bars = barsOf(reading);
  const motif = piece.motifBars ?? likelyMotif(reading);
  return (
    <div class="sentences">
      <SentenceChoice
        before="Metre:"
        value={showMetre(reading.metre)}
        choices={OFFERED_METRES.map(m => ({ value: m, text: m }))}
        onChoose={value => {
          const chosen = parseMetre(value) ?? metre(4, 4);
          if (!sameMetre(chosen, reading.metre)) void hint(`write it in ${value}`, { metre: chosen });
        }}
      />
      <SentenceNumber
        before={`${beat} =`}
        value={Math.round(reading.tempo)}
        least={20}
        most={300}
        onChoose={value => {
          void hint(`${beat} = ${String(value)}`, { tempo: value });
        }}
      />
      <SentenceChoice
        before="Smallest value:"
        value={piece.hints.grid ?? 'automatic'}
        choices={gridChoices(isCompound(reading.metre))}
        onChoose={value => {
          void hint(`smallest value`, { grid: value as Grid });
        }}
      />
      <SentenceChoice
        before="Swing tolerance:"
        value={piece.hints.swingTolerance ?? 'medium'}
        choices={SWING}
        onChoose={value => {
          void hint(`swing tolerance ${value}`, { swingTolerance: value as SwingTolerance });
        }}
      />
      <SentenceChoice
        before={piece.keyChosen ? 'Key:' : 'Key, perhaps:'}
        value={keyName(piece.key)}
        choices={choices.map(k => ({ value: keyName(k), text: keyName(k) }))}
        onChoose={value => {
          const chosen = choices.find(k => keyName(k) === value);
          if (chosen !== undefined) step(`key ${value}`, old => ({ ...old, key: chosen, keyChosen: true }));
        }}
      />
      {bars > 1 || reading.upbeat.n > 0 ? (
        <span class="sentence">
          <SentenceNumber
            before="The motif is bar"
            value={motif.from}
            least={reading.upbeat.n > 0 ? 0 : 1}
            most={motif.to}
            onChoose={from => {
              step('cut the motif', old => ({ ...old, motifBars: { from, to: Math.max(from, motif.to) } }));
            }}
          />
          <SentenceNumber
            before="to"
            value={motif.to}
            least={Math.max(1, motif.from)}
            most={bars}
            onChoose={to => {
              step('cut the motif', old => ({ ...old, motifBars: { from: motif.from, to } }));
            }}
          />
        </span>
      ) : null}
    </div>
  );
};
