import { signal } from '@preact/signals';
import type { PrintOptions } from '../pdf/paper.ts';

/** How print and PDF look; for this session. */
export const paper = signal<Required<PrintOptions>>({ staveHeight: 7, under: [] });
