import type { ComponentChildren } from 'preact';
import { library } from '../../store/keeping.ts';

/** Where the class library is. */
export const LibraryPlace = (): ComponentChildren => (
  <span class="sentence">The class library is in {library.value?.where ?? 'no place yet'}.</span>
);
