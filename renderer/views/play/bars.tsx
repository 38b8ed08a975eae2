import type { ComponentChildren } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import { toneBarShapes, NODE } from '../../../core/instruments/toneBarShape.ts';
import type { InstrumentId } from '../../../core/instruments/instruments.ts';
import { createPointerBars } from '../../input/pointerBars.ts';
import { barBeside } from '../../input/walkBars.ts';
import { useApp } from '../../desk/appContext.ts';
import { toggleLifted } from '../../desk/commands/settings.ts';
import { useKeyCaps } from './keyCaps.ts';
import { stampedLetter, stampedName } from './stamped.ts';

/** Lowest and highest bar shown, as written: two octaves that every instrument has. */
export const LOWEST = 60;
export const HIGHEST = 84;

/** Share of the frame's height that the longest bar of a row takes, and where each row's middle lies. */
const LONGEST = 0.47;
const FRONT = 0.755;
const BEHIND = 0.237;

const NAMES = new Map(
  Array.from({ length: HIGHEST - LOWEST + 1 }, (_, i) => [
    LOWEST + i,
    { letter: stampedLetter(LOWEST + i), full: stampedName(LOWEST + i) },
  ]),
);

/** Makes a bar dip and its ring spread, in the next picture. */
export const moveBar = (root: HTMLElement | null, pitch: number): void => {
  const bar = root?.querySelector<HTMLElement>(`[data-pitch="${String(pitch)}"]`);
  const ring = bar?.querySelector<HTMLElement>('.ring');
  if (bar === null || bar === undefined) return;
  const still = matchMedia('(prefers-reduced-motion: reduce)').matches;
  if (!still) {
    bar.animate(
      [{ transform: 'translateY(0)' }, { transform: 'translateY(5px)' }, { transform: 'translateY(0)' }],
      {
        duration: 160,
        easing: 'ease-out',
      },
    );
  }
  ring?.animate(
    still
      ? [{ opacity: 1 }, { opacity: 0 }]
      : [
          { opacity: 1, transform: 'translate(-50%, -50%) scale(0.3)' },
          { opacity: 0, transform: 'translate(-50%, -50%) scale(1.35)' },
        ],
    { duration: 420, easing: 'ease-out' },
  );
};

const rail = (row: 'front' | 'behind', side: -1 | 1): string => {
  const shapes = toneBarShapes(LOWEST, HIGHEST).filter(b => b.natural === (row === 'front'));
  const middle = row === 'front' ? FRONT : BEHIND;
  return shapes
    .map(b => {
      const y = middle + side * (0.5 - NODE) * b.length * LONGEST;
      return `${((b.x + b.width / 2) * 100).toFixed(2)},${(y * 100).toFixed(2)}`;
    })
    .join(' ');
};

/**
 * The bars of the chosen instrument, drawn by the physics of a uniform bar; lifted ones are empty places. For the
 * keyboard they are one stop: arrow keys walk among them, so that what comes after them is near.
 */
export const Bars = (props: {
  instrument: InstrumentId;
  lifting: boolean;
  /** What they are called, aloud. */
  name?: string;
}): ComponentChildren => {
  const { desk, striking } = useApp();
  const root = useRef<HTMLDivElement>(null);
  const { lifted } = desk.playSettings.value;
  const { lifting } = props;
  const caps = useKeyCaps(LOWEST);
  const [wanted, setWanted] = useState(LOWEST);
  const shapes = toneBarShapes(LOWEST, HIGHEST);
  const out = shapes.map(bar => bar.pitch).filter(pitch => lifting || !lifted.includes(pitch % 12));
  const stop = out.includes(wanted) ? wanted : out[0];

  useEffect(() => {
    if (root.current === null || lifting) return;
    const pointer = createPointerBars(root.current, {
      onStrike: striking.strike,
      onRelease: striking.release,
    });
    return () => {
      pointer.stop();
    };
  }, [striking, lifting]);

  useEffect(() => {
    striking.onStruck = pitch => {
      moveBar(root.current, pitch);
    };
    return () => {
      striking.onStruck = () => undefined;
    };
  }, [striking]);

  const toggle = (pitch: number): void => {
    desk.run(toggleLifted, pitch % 12);
  };

  return (
    <div
      class={`instrument ${props.instrument}${lifting ? ' lifting' : ''}`}
      ref={root}
      role="group"
      aria-label={props.name ?? `Bars of the ${props.instrument}`}
      onKeyDown={event => {
        const beside = stop === undefined ? undefined : barBeside(out, stop, event.key);
        if (beside === undefined || event.altKey || event.ctrlKey || event.metaKey) return;
        event.preventDefault();
        event.stopPropagation();
        event.currentTarget.querySelector<HTMLElement>(`[data-bar="${String(beside)}"]`)?.focus();
      }}
    >
      <svg class="rails" viewBox="0 0 100 100" preserveAspectRatio="none" aria-hidden="true">
        {(['front', 'behind'] as const).flatMap(row =>
          ([-1, 1] as const).map(side => <polyline key={row + String(side)} points={rail(row, side)} />),
        )}
      </svg>
      {shapes.map(bar => {
        const name = NAMES.get(bar.pitch);
        const off = lifted.includes(bar.pitch % 12);
        const height = bar.length * LONGEST * 100;
        const focus = {
          'data-bar': bar.pitch,
          tabIndex: bar.pitch === stop ? 0 : -1,
          onFocus: () => {
            setWanted(bar.pitch);
          },
        };
        const style = {
          left: `${String(bar.x * 100)}%`,
          width: `${String(bar.width * 100)}%`,
          height: `${String(height)}%`,
          top: `${String((bar.natural ? FRONT : BEHIND) * 100 - height / 2)}%`,
        };
        if (off) {
          return (
            <button
              key={bar.pitch}
              class="bar lifted"
              style={style}
              {...focus}
              disabled={!lifting}
              aria-label={`${name?.full ?? ''}, lifted off`}
              onClick={() => {
                if (lifting) toggle(bar.pitch);
              }}
            >
              <span class="letter">{name?.letter}</span>
            </button>
          );
        }
        return (
          <button
            key={bar.pitch}
            class={`bar ${bar.natural ? 'natural' : 'accidental'}`}
            style={style}
            {...focus}
            {...(lifting ? {} : { 'data-pitch': bar.pitch })}
            aria-label={lifting ? `Lift off ${name?.letter ?? ''}` : name?.full}
            onClick={() => {
              if (lifting) toggle(bar.pitch);
            }}
          >
            <span class="hole top" aria-hidden="true" />
            <span class="ring" aria-hidden="true" />
            {caps.has(bar.pitch) ? (
              <span class="key-cap" aria-hidden="true">
                {caps.get(bar.pitch)}
              </span>
            ) : null}
            <span class="letter">{name?.letter}</span>
            <span class="hole bottom" aria-hidden="true" />
          </button>
        );
      })}
    </div>
  );
};
