import type { AppParts } from '../appParts.ts';
import { isPortable } from './carrying.ts';
import { leaveField } from './leaveField.ts';

/** Opens whatever file was dropped, chosen or given: a take, a recording, a portable file. */
export const openAny = (
  { carrying, opening }: Pick<AppParts, 'carrying' | 'opening'>,
  file: File,
): Promise<void> => {
  leaveField();
  return isPortable(file) ? carrying.bringIn(file) : opening.file(file);
};
