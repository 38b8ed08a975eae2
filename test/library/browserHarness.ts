// Bundled into an empty page by browserStorage.test.ts; nothing of the app's own page is in it.
import { directoryFolder } from '../../renderer/storage/directoryFolder.ts';
import { opfsFolder } from '../../renderer/storage/opfsFolder.ts';

Object.assign(globalThis, { harness: { directoryFolder, opfsFolder } });
