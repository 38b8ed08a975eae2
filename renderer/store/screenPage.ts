import { computed, signal } from '@preact/signals';
import type { StaveHeight } from '../page/options.ts';
import type { Under } from '../page/under.ts';

/** How pages look on the screen: the height of a stave (undefined: as the window allows) and rows under the notes. */
export const screenPage = signal<{
  readonly staveHeight: StaveHeight | undefined;
  readonly under: readonly Under[];
}>({ staveHeight: undefined, under: [] });

/** The rows of Write: the counts stand under its staves anyway. */
export const rowsOfWrite = computed(() => screenPage.value.under.filter(row => row !== 'counts'));
