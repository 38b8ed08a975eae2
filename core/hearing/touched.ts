import type { Seconds } from '../foundation/units.ts';
import { decibels, quantile, type PitchBands } from './bands.ts';
import type { Blow } from './blow.ts';
import { CONTACT, MODE, PER_SEMITONE } from './constants.ts';
import type { Contact } from './contacts.ts';
import { freshnessOf } from './freshness.ts';
import { type GrowingBlows, growingBlows } from './growingBlows.ts';
import { betweenMoments } from './inTime.ts';

const timeOf = ({ at }: { readonly at: Seconds }): Seconds => at;

/** A blow with the contact that is heard with it, if any is: the nearest. */
export const touchOf = (bands: PitchBands, contacts: readonly Contact[], blow: Blow): Blow => {
  let least = CONTACT.told + CONTACT.lags * (bands.all[blow.band]?.lag ?? 0);
  let contact: Contact | undefined;
  for (const one of betweenMoments(contacts, timeOf, blow.rose - least, blow.rose + least)) {
    const off = Math.abs(one.at - blow.rose);
    if (off >= least) continue;
    least = off;
    contact = one;
  }
  return contact === undefined ? blow : { ...blow, contact };
};

/** A bar on which nothing but a contact tells a blow, and how far what is new in it is under the last one, in dB. */
interface Again {
  readonly blow: Blow;
  readonly under: number;
}

/** A bar as it would be struck at a contact; undefined where it goes on ringing as it did. */
const againOn = (
  bands: PitchBands,
  contact: Contact,
  known: GrowingBlows,
  index: number,
): Again | undefined => {
  const fresh = freshnessOf(bands, known, index, contact);
  if (fresh === undefined || fresh.contrast < CONTACT.contrast) return undefined;
  const last = known.lastOn(index, contact.at - CONTACT.soonest);
  const under = decibels(last?.loudness ?? known.usualOn(index)) - decibels(fresh.loudness);
  if (under > CONTACT.fresh) return undefined;
  // Where the band has hardly settled after the last blow, the contacts beside one another tell more.
  const byContact =
    last?.contact === undefined ? 0 : (last.loudness * contact.loudness) / last.contact.loudness;
  const loudness = Math.max(fresh.loudness, byContact);
  return { blow: { band: index, loudness, rose: contact.at, at: contact.at, contact }, under };
};

/** Of the bars of the take the one in which most is new at a contact, of those that may be it. */
const newestAt = (
  bands: PitchBands,
  contact: Contact,
  known: GrowingBlows,
  mayBe: (index: number) => boolean = () => true,
): Blow | undefined => {
  let best: Again | undefined;
  for (const index of known.bars) {
    if (!mayBe(index)) continue;
    const again = againOn(bands, contact, known, index);
    if (again !== undefined && again.under < (best?.under ?? Infinity)) best = again;
  }
  return best?.blow;
};

const byTime = (a: Blow, b: Blow): number => a.at - b.at;

/** Blows, of which those that are only modes of a bar in which something is new at their contact are on that bar. */
const onTheirBars = (
  bands: PitchBands,
  blows: readonly Blow[],
  earlier: readonly Blow[],
): readonly Blow[] => {
  const known = growingBlows([...earlier, ...blows]);
  /** Of each contact, all blows that have it now. */
  const having = new Map<Contact, Blow[]>();
  for (const blow of blows) {
    if (blow.contact === undefined) continue;
    const mine = having.get(blow.contact);
    if (mine === undefined) having.set(blow.contact, [blow]);
    else mine.push(blow);
  }
  return [...blows].sort(byTime).flatMap(blow => {
    const { contact } = blow;
    if (contact === undefined) return [blow];
    const bar = newestAt(bands, contact, known, index => {
      const above = (blow.band - index) / PER_SEMITONE;
      return above >= MODE.from && above <= MODE.to;
    });
    if (bar === undefined || blow.loudness > MODE.louder * bar.loudness) return [blow];
    const others = (having.get(contact) ?? []).filter(other => other !== blow);
    const isThere = others.some(other => Math.abs(other.band - bar.band) <= 2);
    known.remove(blow);
    having.set(contact, isThere ? others : [...others, bar]);
    if (isThere) return [];
    known.add(bar);
    return [bar];
  });
};

/**
 * Blows with the contacts that are heard with them, and with those that nothing but a contact and a break in how a bar
 * rings tell: a bar struck again while it rings. Of the bars of the take it is the one in which most is new. Where
 * most blows have a contact (hard mallets), it tells when they were. A blow without one is a blow, for its
 * mallet may be soft; only in a loud room a soft one may as well be a voice.
 * @param contacts in order of time
 * @param earlier of the take, where the bands are only the end of what was heard
 */
export const withTouches = (
  bands: PitchBands,
  contacts: readonly Contact[],
  blows: readonly Blow[],
  earlier: readonly Blow[] = [],
): readonly Blow[] => {
  const touches = blows.map(blow => touchOf(bands, contacts, blow));
  const told = [...earlier, ...touches].flatMap(({ contact }) => (contact === undefined ? [] : [contact]));
  const many = earlier.length + touches.length;
  const level = quantile(
    told.map(one => decibels(one.loudness)),
    CONTACT.share,
  );
  const isLoud = (contact: Contact, under: number): boolean => decibels(contact.loudness) >= level - under;
  const usual = quantile(
    [...earlier, ...touches].map(blow => decibels(blow.loudness)),
    CONTACT.share,
  );
  const room = decibels(
    quantile(
      bands.all.map(band => band.floor),
      CONTACT.room,
    ),
  );
  const isTrusted =
    usual - room < CONTACT.over && many >= CONTACT.few && told.length >= CONTACT.trusted * many;
  const kept = touches.filter(
    ({ contact, loudness }) =>
      !isTrusted ||
      decibels(loudness) >= usual - CONTACT.clear ||
      (contact !== undefined && isLoud(contact, CONTACT.underTold)),
  );
  const isUsual = told.length >= CONTACT.usual * many;
  const timed = isUsual
    ? kept.map(blow => (blow.contact === undefined ? blow : { ...blow, at: blow.contact.at }))
    : kept;
  const mine = [...onTheirBars(bands, timed, earlier)].sort(byTime);
  const known = growingBlows([...earlier, ...mine]);
  const answered = new Set(mine.map(blow => blow.contact));
  const late = new Set<Blow>();
  const more: Blow[] = [];
  for (const contact of contacts) {
    if (contact.rise < CONTACT.rise || !isLoud(contact, CONTACT.under)) continue;
    if (answered.has(contact)) continue;
    const blow = newestAt(bands, contact, known);
    if (blow === undefined) continue;
    // What was told of the same blow without its contact was told at the wrong moment.
    for (const other of betweenMoments(mine, timeOf, blow.at - CONTACT.late, blow.at + CONTACT.late)) {
      const isSame = other.contact === undefined && Math.abs(other.band - blow.band) <= 2;
      if (!isSame || Math.abs(other.at - blow.at) >= CONTACT.late) continue;
      late.add(other);
      known.remove(other);
    }
    more.push(blow);
    known.add(blow);
  }
  return [...mine.filter(blow => !late.has(blow)), ...more];
};
