// What `import … from 'electron'` gives the desktop edition in tests: the stand-in that was put there for it.
import type { StandIn } from './standIn.ts';

const standIn = (globalThis as unknown as { malletloomStandIn: StandIn }).malletloomStandIn;
export const { app, BrowserWindow, dialog, ipcMain, Menu, protocol, screen, session, shell } =
  standIn.electron;
