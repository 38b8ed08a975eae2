import { describe, expect, it } from 'vitest';
import { metre, showMetre } from '../../../core/foundation/metre.ts';
import { readTake } from '../../../core/reading/read.ts';
import { beatInStrikes } from '../../../core/reading/whilePlaying/beatInStrikes.ts';
import { strike } from '../../../renderer/desk/commands/playing.ts';
import { startPiece } from '../../../renderer/desk/commands/open.ts';
import { fromSafe, toSafe } from '../../../renderer/desk/safe.ts';
import { FIRST_DESK } from '../../../renderer/desk/state.ts';
import { metreChosen } from '../../../renderer/desk/commands/playing.ts';
import { setPlay } from '../../../renderer/desk/commands/settings.ts';
import { toWriteOn } from '../../../renderer/desk/commands/whilePlaying.ts';
import { played } from '../../takes/written.ts';
import { after, EMPTY, SCALE } from '../pieces.ts';

const THREE = metre(3, 4);
/** Crotchets and quavers, uneven by some milliseconds; nothing says where a bar begins. */
const FREE = played({
  at: [0, 1, 2, 2.5, 3, 4, 5, 6, 7, 7.5, 8, 9, 10, 11],
  off: [6, -9, 4, 12, -7, 3, -11, 8],
  tempo: 100,
  click: false,
});

describe('a metre chosen in Play for a click that does not go', () => {
  const on = after(EMPTY, setPlay, { clickOn: true, metre: THREE });

  it('is what is played without it is written in, and what is caught', () => {
    expect(showMetre(readTake(FREE)[0]?.metre ?? THREE)).not.toBe('3/4');
    expect(metreChosen(on.session)).toEqual(THREE);
    const begin = { take: FREE, title: 'Idea', id: 'p', pupil: undefined, metre: THREE };
    const asked = startPiece(on, begin);
    const questions = asked.ok ? asked.value?.questions : [];
    expect(questions).toEqual([{ take: FREE, hints: { metre: THREE } }]);
    for (const reading of readTake(FREE, { metre: THREE })) expect(showMetre(reading.metre)).toBe('3/4');
    expect(beatInStrikes(FREE.strikes, THREE)?.beat.metre).toEqual(THREE);
  });

  it('may be chosen without any click, and then holds with one or none; one of the click goes with it', () => {
    const known = after(EMPTY, setPlay, { metreKnown: true, metre: THREE });
    expect(metreChosen(known.session)).toEqual(THREE);
    expect(metreChosen(after(known, setPlay, { clickOn: true }).session)).toEqual(THREE);
    expect(metreChosen(after(on, setPlay, { clickOn: false }).session)).toBeUndefined();
    const back = fromSafe(FIRST_DESK, structuredClone(toSafe(known, 0)), 0);
    expect(back === undefined ? undefined : metreChosen(back.session)).toEqual(THREE);
  });

  it('is told to whoever writes on, and counts for nothing where a click went or none is wanted', () => {
    const strikes = [0, 0.6, 1.2].map(at => ({
      at,
      pitch: 60,
      velocity: 80,
      device: 'd',
      name: 'D',
      source: 'midi' as const,
    }));
    const struck = (desk: typeof on): typeof on => strikes.reduce((so, s) => after(so, strike, s), desk);
    expect(toWriteOn(struck(on), 1.3, undefined)?.heard.metre).toEqual(THREE);
    expect(toWriteOn(struck(EMPTY), 1.3, undefined)?.heard).not.toHaveProperty('metre');
    expect(metreChosen(EMPTY.session)).toBeUndefined();
    const begin = { take: SCALE, title: 'Idea', id: 'p', pupil: undefined, metre: THREE };
    const asked = startPiece(on, begin);
    expect(asked.ok && asked.value?.questions).toEqual([{ take: SCALE, hints: {} }]);
  });
});
