import { effect } from '@preact/signals';
import type { Desk } from '../desk.ts';

/**
 * What the window is called: the piece that lies open and whose it is, by code name, before the program's name.
 * @example windowTitle({ title: 'Tin roof', codeName: 'Heron' }) // => 'Tin roof, Heron – Malletloom'
 */
export const windowTitle = (
  piece: { readonly title: string; readonly codeName: string } | undefined,
): string =>
  [
    ...(piece === undefined ? [] : [[piece.title, piece.codeName].filter(word => word !== '').join(', ')]),
    'Malletloom',
  ]
    .filter(part => part !== '')
    .join(' – ');

/** The title of the window follows what lies open. @returns a way to stop */
export const watchTitle = (desk: Desk, target: { title: string }): (() => void) =>
  effect(() => {
    target.title = windowTitle(desk.piece.value);
  });
