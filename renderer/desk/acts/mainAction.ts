import { leaveField } from './leaveField.ts';

/**
 * Presses the one main action of what is shown, unless it is greyed out: of the window that is open over the
 * page, else of the place. What is typed is taken over first.
 */
export const pressMainAction = (): void => {
  leaveField();
  const shown = [...document.querySelectorAll('dialog[open]')].at(-1) ?? document.querySelector('main');
  shown?.querySelector<HTMLElement>('.main-action')?.click();
};
