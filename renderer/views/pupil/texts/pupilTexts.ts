import { useApp } from '../../../desk/appContext.ts';
import type { PupilLanguage } from '../../../desk/session.ts';
import { ENGLISH } from './english.ts';
import { GERMAN } from './german.ts';

/** The same texts in any language. */
type Told<T> = {
  readonly [K in keyof T]: T[K] extends string ? string : T[K] extends boolean ? boolean : Told<T[K]>;
};
export type PupilTexts = Told<typeof ENGLISH>;

/** Every text of the pupil view, by language (codes of BCP 47). */
export const PUPIL_TEXTS: Readonly<Record<PupilLanguage, PupilTexts>> = { en: ENGLISH, de: GERMAN };

/** The texts in the language this machine's pupil view speaks. */
export const usePupilTexts = (): PupilTexts => PUPIL_TEXTS[useApp().desk.pupilLanguage.value];
