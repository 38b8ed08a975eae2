import type { Seconds } from '../foundation/units.ts';
import { contrastAt, decibels, loudnessAt, type PitchBand, type PitchBands } from './bands.ts';
import type { Blow } from './blow.ts';
import { BAR_MODES, CONTACT, PER_SEMITONE, SOONEST_AGAIN, VOICE } from './constants.ts';
import type { Contact } from './contacts.ts';
import { betweenMoments } from './inTime.ts';
import { unsteadinessOf } from './steadiness.ts';
import { touchOf } from './touched.ts';

/** The loudest band that a pitch may stand in; undefined beyond what is listened to. */
const bandNear = ({ all }: PitchBands, midi: number, look: number): PitchBand | undefined => {
  const index = Math.round((midi - (all[0]?.midi ?? 0)) * PER_SEMITONE);
  let best = all[index];
  for (const other of [all[index - 1], all[index + 1]])
    if (best !== undefined && loudnessAt(other, look) > loudnessAt(best, look)) best = other;
  return best;
};

const lookAt = ({ hop, looks }: PitchBands, at: Seconds): number =>
  Math.max(0, Math.min(looks - 1, Math.round(at / hop)));

/** Whether something narrow began to sound at so many times a frequency, when a blow was heard. */
const beganAt = (
  bands: PitchBands,
  { blow, main }: { readonly blow: Blow; readonly main: PitchBand },
  base: number,
  times: number,
): boolean => {
  const look = lookAt(bands, blow.rose + VOICE.lags * main.lag);
  const partial = base + 12 * Math.log2(times);
  const band = bandNear(bands, partial, look);
  if (band === undefined) return false;
  const level = (midi: number): number => decibels(loudnessAt(bandNear(bands, midi, look), look));
  const mine = decibels(loudnessAt(band, look));
  if (mine < decibels(loudnessAt(main, look)) - VOICE.under) return false;
  // Between two partials of a voice there is nothing.
  const below = times > 1 ? level(base + 12 * Math.log2(times - 0.5)) : -Infinity;
  if (mine < Math.max(below, level(base + 12 * Math.log2(times + 0.5))) + VOICE.narrow) return false;
  const before = lookAt(bands, blow.rose - VOICE.before - main.lag);
  return mine - decibels(loudnessAt(band, before)) > VOICE.began;
};

/** Whether a pitch may be another bar, struck together with this one, or a mode of it. */
const isOfBar = ({ all }: PitchBands, others: readonly Blow[], midi: number): boolean =>
  others.some(({ band }) =>
    BAR_MODES.some(times => Math.abs((all[band]?.midi ?? 0) + 12 * Math.log2(times) - midi) < VOICE.same),
  );

/**
 * How many partials in a row, the blow's own among them, began with it as multiples of one frequency: a voice has them
 * all, a bar none but its modes.
 * @param together what else was struck in that moment: what may be of it does not count
 */
export const harmonicsOf = (bands: PitchBands, blow: Blow, together: readonly Blow[] = []): number => {
  const main = bands.all[blow.band];
  if (main === undefined) return 0;
  let most = 1;
  for (let mine = 1; mine <= VOICE.highest; mine++) {
    const base = main.midi - 12 * Math.log2(mine);
    const began = (times: number): boolean =>
      !isOfBar(bands, together, base + 12 * Math.log2(times)) && beganAt(bands, { blow, main }, base, times);
    let [first, last] = [mine, mine];
    while (first > 1 && began(first - 1)) first -= 1;
    while (last < mine + VOICE.above && began(last + 1)) last += 1;
    most = Math.max(most, last - first + 1);
  }
  return most;
};

/**
 * Whether a blow that hardly anything touched sounds as a voice does. An octave on a xylophone is 1:2:3 by the lower bar's
 * mode, a major chord 4:5:6: bars struck together tell of a voice only by a longer row than any of theirs.
 */
const soundsAsVoice = (
  bands: PitchBands,
  blow: Blow,
  { together, next }: { readonly together: readonly Blow[]; readonly next: Seconds },
): boolean => {
  const band = bands.all[blow.band];
  if (band === undefined) return false;
  const harmonics = harmonicsOf(bands, blow, together);
  if (harmonics >= VOICE.harmonics) return true;
  if (together.length > 0 && harmonicsOf(bands, blow) >= VOICE.longRow) return true;
  const from = lookAt(bands, blow.rose + VOICE.settled * band.lag);
  const to = lookAt(bands, Math.min(blow.rose + VOICE.longest, next - VOICE.apart));
  if ((to - from) * bands.hop < VOICE.shortest) return false;
  const look = lookAt(bands, blow.rose + VOICE.lags * band.lag);
  if (contrastAt(bands, blow.band, look) < VOICE.clear) return false;
  const unsteady = unsteadinessOf(band, from, to);
  return unsteady > VOICE.unsteady || (harmonics > 1 && unsteady > VOICE.gliding);
};

/**
 * Blows, but for what is a voice. A mallet touches the bar, and a bar that was struck swings at one frequency and dies
 * away by itself; its modes are no multiples in a row. A voice swells without a touch (but for the consonants before
 * it), glides, and has every multiple of its frequency. Who talks, talks on: what nothing touched, between more voices
 * than other blows that nothing touched, is of that voice.
 * @param contacts in order of time
 */
export const withoutVoices = (
  bands: PitchBands,
  contacts: readonly Contact[],
  blows: readonly Blow[],
): readonly Blow[] => {
  const inTime = [...blows].sort((a, b) => a.rose - b.rose);
  const isTouched = (blow: Blow): boolean => {
    const { contact } = touchOf(bands, contacts, blow);
    if (contact === undefined || contact.rise < CONTACT.rise) return false;
    // Where the last touch still sounds the next one rises less.
    const last = betweenMoments(contacts, ({ at }) => at, contact.at - VOICE.soonAfter, contact.at);
    return [contact, ...last].some(({ rise }) => rise >= VOICE.touched);
  };
  const untouched = inTime.flatMap(blow => {
    if (isTouched(blow)) return [];
    const after = blow.rose + SOONEST_AGAIN;
    const roseAt = ({ rose }: Blow): Seconds => rose;
    const [next] = betweenMoments(inTime, roseAt, after, blow.rose + VOICE.longest + VOICE.apart);
    const moment = betweenMoments(inTime, roseAt, blow.rose - SOONEST_AGAIN, blow.rose + SOONEST_AGAIN);
    const together = moment.filter(other => other !== blow);
    return [{ blow, isVoice: soundsAsVoice(bands, blow, { together, next: next?.rose ?? Infinity }) }];
  });
  const voices = new Set(
    untouched.flatMap(({ blow, isVoice }) => {
      const near = betweenMoments(
        untouched,
        one => one.blow.rose,
        blow.rose - VOICE.near,
        blow.rose + VOICE.near,
      );
      const many = near.filter(other => other.isVoice).length;
      return isVoice || (many >= VOICE.few && many > near.length - many) ? [blow] : [];
    }),
  );
  return blows.filter(blow => !voices.has(blow));
};
