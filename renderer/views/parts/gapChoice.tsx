import type { ComponentChildren } from 'preact';
import { tactus } from '../../../core/foundation/metre.ts';
import { toNumber } from '../../../core/foundation/fraction.ts';
import { gapAfter } from '../../../core/piece/motifOfReading.ts';
import { corrected, motifRange, type Piece } from '../../../core/piece/piece.ts';
import { useApp } from '../../desk/appContext.ts';
import { joinRepeats } from '../../desk/commands/motifs.ts';
import { SentenceChoice } from './sentence.tsx';

/** Beats in words: "1 beat", "2½ beats". */
const beatsInWords = (count: number): string => {
  const whole = Math.floor(count);
  const figure = count === whole ? String(whole) : `${whole === 0 ? '' : String(whole)}½`;
  return `${figure} ${count <= 1 ? 'beat' : 'beats'}`;
};

/** Where an idea ends before its barline: whether its repeats wait for that or follow straight on. */
export const GapChoice = (props: { piece: Piece; onChosen?: () => void }): ComponentChildren => {
  const { desk } = useApp();
  const { piece } = props;
  const reading = corrected(piece);
  const range = motifRange(piece, reading);
  const gap = gapAfter(reading, piece.key, range);
  if (gap.n === 0) return null;
  const rest = beatsInWords(Math.round((2 * toNumber(gap)) / toNumber(tactus(reading.metre))) / 2);
  return (
    <SentenceChoice
      before="Repeats follow"
      value={range.joined === true ? 'joined' : 'gap'}
      choices={[
        { value: 'gap', text: `after a gap of ${rest}` },
        { value: 'joined', text: 'straight on, without a gap' },
      ]}
      onChoose={value => {
        desk.run(joinRepeats, value === 'joined');
        props.onChosen?.();
      }}
    />
  );
};
