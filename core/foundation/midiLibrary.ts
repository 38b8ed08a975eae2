import * as toneMidi from '@tonejs/midi';

/** Bundlers see the library's names; Node sees one default object that holds them. */
export const { Midi } = 'Midi' in toneMidi ? toneMidi : (toneMidi as { default: typeof toneMidi }).default;
