import { signal } from '@preact/signals';
import type { PrintOptions } from '../pdf/paper.ts';

/** How print and PDF look; for this session. */
export const paper = signal<Required<PrintOptions>>({ staveHeight: 7, under: [] });

/** Whether bars that come again straight away are written once, between repeat bars: on paper and in MusicXML. */
export const repeatBars = signal(false);
