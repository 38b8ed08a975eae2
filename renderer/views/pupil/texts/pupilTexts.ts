import { useApp } from '../../../desk/appContext.ts';
import type { PupilLanguage } from '../../../desk/session.ts';
import { ENGLISH, type PupilTexts } from './english.ts';
import { GERMAN } from './german.ts';

/** Every text of the pupil view, by language (codes of BCP 47). */
export const PUPIL_TEXTS: Readonly<Record<PupilLanguage, PupilTexts>> = { en: ENGLISH, de: GERMAN };

/** The texts in the language this machine's pupil view speaks. */
export const usePupilTexts = (): PupilTexts => PUPIL_TEXTS[useApp().desk.pupilLanguage.value];
