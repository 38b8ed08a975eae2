import { describe, expect, it } from 'vitest';
import { key, keyName } from '../../core/foundation/key.ts';
import { mergedClass } from '../../core/library/classList.ts';
import { readTake } from '../../core/reading/read.ts';
import { startPiece } from '../../renderer/desk/commands/open.ts';
import { suggestKeys } from '../../core/motif/suggestKey.ts';
import { weighed } from '../../core/piece/piece.ts';
import { hint } from '../../renderer/desk/commands/reading.ts';
import { changeRoom } from '../../renderer/desk/commands/room.ts';
import { setPlay } from '../../renderer/desk/commands/settings.ts';
import { createDesk } from '../../renderer/desk/desk.ts';
import { keyEvidence } from '../../renderer/desk/keyEvidence.ts';
import { withSession } from '../../renderer/desk/state.ts';
import { concertSet } from '../../core/playable/presets.ts';
import { chooseSet } from '../../core/playable/musicRoom.ts';
import { firstPlan } from '../../core/plan/plan.ts';
import { after, EMPTY, pieceOn, takeOf } from './pieces.ts';

const OTTER = { codeName: 'Otter', className: '7 Wren' };
const classIn = (k?: ReturnType<typeof key>, name = '7 Wren') => ({
  id: `class-${name}`,
  revision: 'r1',
  heads: ['r1'],
  savedAt: '',
  away: false,
  rivals: [],
  list: {
    id: `class-${name}`,
    name,
    pupils: ['Otter'],
    groups: [],
    ...(k === undefined ? {} : { key: k }),
  },
});
const withClasses = (...classes: ReturnType<typeof classIn>[]) => ({
  ...EMPTY,
  live: { ...EMPTY.live, library: { ...EMPTY.live.library, classes } },
});
/** D, G and A: they fit many keys. */
const OPEN = takeOf('open', [0, 1, 2, 3], [74, 79, 81, 74]);
const begun = (desk: typeof EMPTY) => {
  const asked = startPiece(desk, { take: OPEN, title: 'Open', id: 'p', pupil: desk.session.pupil });
  if (!asked.ok || asked.value === undefined) throw new Error('nothing asked');
  const done = asked.value.then(desk, [readTake(OPEN, {})]);
  if (!done.ok) throw new Error(done.problem.what);
  return done.value;
};
const keyOf = (desk: typeof EMPTY): string => keyName(pieceOn(desk).key);

describe('the key of a class', () => {
  const inG = withSession(withClasses(classIn(key('G'))), { pupil: OTTER });
  const inD = withSession(withClasses(classIn(key('D', 'dorian'))), { pupil: OTTER });

  it('is the key of what its pupils catch, where the notes fit it', () => {
    expect(keyOf(begun(inG))).toBe('G major');
    expect(keyOf(begun(inD))).toBe('D dorian');
    expect(keyEvidence(inG, '7 Wren', 'xylophone')).toEqual({ classKey: key('G') });
  });

  it('of another class, or of one put away, says nothing', () => {
    const other = withClasses(classIn(undefined), classIn(key('G'), '8 Kestrel'));
    expect(keyEvidence(other, '7 Wren', 'xylophone')).toEqual({});
    const away = withClasses({ ...classIn(key('G')), away: true });
    expect(keyEvidence(away, '7 Wren', 'xylophone')).toEqual({});
  });

  it('counts when the take is read anew, and in what Write says', () => {
    const plain = begun(withSession(withClasses(classIn()), { pupil: OTTER }));
    const later = { ...plain, live: { ...plain.live, library: inD.live.library } };
    const asked = hint(later, 'no swing', { swingTolerance: 'none' });
    if (!asked.ok || asked.value === undefined) throw new Error('nothing asked');
    const done = asked.value.then(later, [readTake(OPEN, { swingTolerance: 'none' })]);
    if (!done.ok) throw new Error(done.problem.what);
    expect(keyOf(done.value)).toBe('D dorian');
    expect(createDesk(later).keyEvidence.value).toEqual({ classKey: key('D', 'dorian') });
  });

  it('is kept where lists of two machines are merged; the newest wins', () => {
    const [g, d, none] = [classIn(key('G')).list, classIn(key('D')).list, classIn().list];
    expect(mergedClass(g, [d]).key).toEqual(key('G'));
    expect(mergedClass(none, [d]).key).toEqual(key('D'));
    expect('key' in mergedClass(none, [none])).toBe(false);
  });
});

describe('bars that are not set out', () => {
  it('in Play: what is left of the naturals counts, the row behind tells nothing', () => {
    const desk = after(EMPTY, setPlay, { lifted: [5, 11] });
    const { setOut = [] } = keyEvidence(desk, '', 'xylophone');
    expect([...new Set(setOut.map(p => p % 12))].sort((a, b) => a - b)).toEqual([0, 2, 4, 7, 9]);
    expect(keyEvidence(EMPTY, '', 'xylophone')).toEqual({});
  });

  it('in the room: F sharp in the place of F speaks for G major', () => {
    const plan = firstPlan('xylophone', 90);
    const [part] = plan.parts;
    if (part === undefined) throw new Error('no part');
    const desk = after(EMPTY, changeRoom, 'an alto xylophone, F sharp in', old => {
      const room = chooseSet(old, plan, part, 'alto-xylophone');
      return {
        ...room,
        sets: room.sets.map(s =>
          s.id === 'alto-xylophone'
            ? { ...s, exchange: s.exchange.map(e => ({ ...e, isIn: e.pitch % 12 === 6 })) }
            : s,
        ),
      };
    });
    const { setOut = [] } = keyEvidence(desk, '', 'xylophone');
    expect([...new Set(setOut.map(p => p % 12))].sort((a, b) => a - b)).toEqual([0, 2, 4, 6, 7, 9, 11]);
    const inG = (from: typeof EMPTY): number =>
      suggestKeys(weighed(pieceOn(begun(from)).reading), keyEvidence(from, '', 'xylophone')).find(
        s => keyName(s.key) === 'G major',
      )?.sure ?? 0;
    expect(inG(desk)).toBeGreaterThan(inG(EMPTY));
    expect(concertSet('xylophone').accidentals).toBe(true);
  });
});
