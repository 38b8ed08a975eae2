import { beforeAll, describe, expect, it } from 'vitest';
import { bandOnsetsIn } from '../../core/hearing/bandOnsets.ts';
import { bandsOf } from '../../core/hearing/bands.ts';
import { blowsIn } from '../../core/hearing/blows.ts';
import { contactsIn } from '../../core/hearing/contacts.ts';
import { createTimeline, betweenMoments, countBefore } from '../../core/hearing/inTime.ts';
import { arrayWorkOf } from '../tools/arrayWork.ts';
import { MODELS, noise, soundOf } from './bars.ts';

/** What is heard in so many seconds of a pupil who strikes four bars a second, some again while they ring. */
const heardIn = (seconds: number) => {
  const random = noise(8);
  const blows = Array.from({ length: 4 * seconds }, (_, i) => ({
    at: 0.6 + i / 4 + 0.02 * random(),
    midi: 77 + ([0, 4, 4, 7, 2, 12, 9, 7][i % 8] ?? 0),
    velocity: 80 + 30 * random(),
  }));
  const bands = bandsOf(soundOf(blows, MODELS.xylophone, { rate: 16000, hiss: 0.002 }));
  return { bands, begun: bandOnsetsIn(bands), contacts: contactsIn(bands) };
};
type Heard = ReturnType<typeof heardIn>;

describe('the blows of a long recording', () => {
  let few: Heard;
  let many: Heard;
  beforeAll(() => {
    few = heardIn(10);
    many = heardIn(40);
  }, 60_000);

  it('law: take work as the recording is long, however many came before', () => {
    const blows = ({ bands, begun, contacts }: Heard) => blowsIn(bands, begun, contacts).all;
    expect(blows(many).length).toBeGreaterThan(3.5 * blows(few).length);
    expect(blows(few).length).toBeGreaterThan(30);
    // Four times as long: 4 where it grows along, 16 with the square.
    const growth = arrayWorkOf(() => blows(many)) / arrayWorkOf(() => blows(few));
    expect(growth).toBeGreaterThan(3);
    expect(growth).toBeLessThan(5);
  }, 60_000);
});

describe('what is found again by when it was', () => {
  type Thing = { readonly at: number; readonly id: number };
  const when = (one: Thing) => one.at;
  it('law: as by looking at all of it', () => {
    const random = noise(11);
    const list = Array.from({ length: 300 }, (_, id) => ({ at: 10 * random(), id }));
    const timeline = createTimeline(when);
    for (const one of list) timeline.add(one);
    const sorted = [...list].sort((a, b) => a.at - b.at);
    for (let i = 0; i < 50; i++) {
      const [moment, within] = [11 * random(), Math.abs(random())];
      const near = timeline.near(moment, within);
      expect(near.filter(one => Math.abs(one.at - moment) < within)).toEqual(
        list.filter(one => Math.abs(one.at - moment) < within),
      );
      // Not much more, and in the order in which they came.
      for (const one of near) expect(Math.abs(one.at - moment)).toBeLessThan(within + 0.26);
      expect(near).toEqual([...near].sort((a, b) => a.id - b.id));
      expect(betweenMoments(sorted, when, moment, moment + within)).toEqual(
        sorted.filter(one => one.at >= moment && one.at < moment + within),
      );
      expect(countBefore(sorted, when, moment)).toBe(list.filter(one => one.at < moment).length);
    }
  });

  it('one that took another’s place stands there, and is replaced again', () => {
    const timeline = createTimeline(when);
    const [a, b, c] = [1, 2, 3].map(id => ({ at: 1, id }));
    if (a === undefined || b === undefined || c === undefined) throw new Error('three');
    timeline.add(a);
    timeline.add({ at: 1.1, id: 4 });
    timeline.replace(a, b);
    timeline.replace(a, c);
    expect(timeline.all[0]).toBe(b);
    timeline.replace(b, c);
    expect([timeline.all[0], timeline.near(1, 0.05)[0]]).toEqual([c, c]);
    expect(timeline.all).toHaveLength(2);
  });
});
