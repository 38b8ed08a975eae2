import type { ComponentChildren } from 'preact';
import { isFlat, type LikeBy } from '../../../core/library/likeness.ts';
import { useApp } from '../../desk/appContext.ts';
import { findLikeBy, leaveAlike } from '../../desk/commands/alike.ts';
import type { AskedTune } from '../../desk/live.ts';
import { HELP } from '../help/helpWords.ts';
import { SentenceChoice } from '../parts/sentence.tsx';

const BY: readonly { readonly value: LikeBy; readonly text: string }[] = [
  { value: 'both', text: 'rhythm and contour' },
  { value: 'rhythm', text: 'rhythm' },
  { value: 'contour', text: 'contour' },
];

/** Which tune the pieces shown are like, by what, and the way back to all of them. */
export const Alike = (props: { asked: AskedTune }): ComponentChildren => {
  const { desk } = useApp();
  const { of, by, outline } = props.asked;
  // Claps, or one bar alone, are like others by their rhythm only.
  const flat = isFlat(outline);
  return (
    <span class="sentences showing">
      <span class="quiet">Like</span>
      <b class="alike-name" title={of}>
        {of}
      </b>
      <SentenceChoice
        before="in its"
        help={HELP.alike}
        value={by}
        choices={flat ? BY.filter(one => one.value === 'rhythm') : BY}
        onChoose={value => {
          desk.run(findLikeBy, BY.find(one => one.value === value)?.value ?? 'both');
        }}
      />
      <button
        class="second"
        onClick={() => {
          desk.run(leaveAlike);
        }}
      >
        Show all
      </button>
    </span>
  );
};
