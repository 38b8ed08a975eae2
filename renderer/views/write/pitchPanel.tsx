import type { ComponentChildren } from 'preact';
import { spell } from '../../../core/foundation/key.ts';
import { pitchName } from '../../../core/foundation/pitch.ts';
import { counted } from '../../../core/plan/intervals.ts';
import type { Piece } from '../../../core/piece/piece.ts';
import type { Reading } from '../../../core/reading/model/reading.ts';
import { useApp } from '../../desk/appContext.ts';
import { beginPitching, leavePitching, takeBackPitch, writePitches } from '../../desk/commands/pitching.ts';
import { Bars } from '../play/bars.tsx';

/** What a rhythm without pitches is, and the way to give it some. */
export const RhythmLine = (): ComponentChildren => {
  const { desk, listening } = useApp();
  return (
    <div class="page-line">
      <span>A rhythm on one bar, written on one line.</span>
      <button
        class="second"
        onClick={() => {
          listening.stop();
          desk.run(beginPitching);
        }}
      >
        Give it pitches
      </button>
    </div>
  );
};

/** Bars are struck in order, in any time: each is the pitch of the next note; the rhythm stays. */
export const PitchPanel = (props: { piece: Piece; reading: Reading }): ComponentChildren => {
  const { desk } = useApp();
  const struck = desk.pitching.value ?? [];
  const count = props.reading.notes.length;
  const more = struck.length - count;
  const names = struck.map(pitch => pitchName(spell(props.piece.key, pitch))).join(' ');
  return (
    <div class="pitch-panel" role="group" aria-label="Give it pitches">
      <p class="pitch-words" aria-live="polite">
        {struck.length === 0
          ? `Strike a bar for each of the ${String(count)} notes, in order. Take your time: the rhythm stays.`
          : `${String(struck.length)} of ${String(count)} notes${more > 0 ? `, ${counted(more, 'bar')} too many` : ''}: ${names}`}
      </p>
      <button
        class="tool"
        disabled={struck.length === 0}
        onClick={() => {
          desk.run(takeBackPitch);
        }}
      >
        Take back the last
      </button>
      <button
        class="tool"
        onClick={() => {
          desk.run(leavePitching);
        }}
      >
        Leave it
      </button>
      <button
        class="second"
        disabled={struck.length !== count}
        title={more < 0 ? `When ${counted(-more, 'more bar')} ${more === -1 ? 'was' : 'were'} struck` : ''}
        onClick={event => {
          // Letters strike bars: a button that is gone must not keep them.
          event.currentTarget.blur();
          desk.run(writePitches);
        }}
      >
        Write them in
      </button>
      <div class="rehearsal-bars pitch-bars">
        <Bars instrument={props.piece.instrument} lifting={false} />
      </div>
    </div>
  );
};
