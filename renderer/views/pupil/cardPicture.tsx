import type { ComponentChildren } from 'preact';
import { useMemo } from 'preact/hooks';
import type { Motif } from '../../../core/motif/motif.ts';
import type { PupilCard } from './pupilCards.ts';
import { threadPath, threadPicture } from './thread.ts';

/** The tune as a thread with round knots, and what is made of it with square ones: by shape, not by colour alone. */
export const CardPicture = (props: { motif: Motif; card: PupilCard }): ComponentChildren => {
  const { motif, card } = props;
  const picture = useMemo(() => threadPicture(motif, card), [motif, card]);
  const { width, height, tune, made } = picture;
  return (
    <svg class="card-picture" viewBox={`0 0 ${String(width)} ${String(height)}`} aria-hidden="true">
      <g class="tune">
        <path d={threadPath(tune)} />
        {tune.map(({ x, y }, i) => (
          <circle key={i} cx={x} cy={y} r={5} />
        ))}
      </g>
      <g class="made">
        <path d={threadPath(made)} />
        {made.map(({ x, y }, i) => (
          <rect
            key={i}
            x={x - 4.5}
            y={y - 4.5}
            width={9}
            height={9}
            transform={`rotate(45 ${x.toFixed(1)} ${y.toFixed(1)})`}
          />
        ))}
      </g>
    </svg>
  );
};
