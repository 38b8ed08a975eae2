import { createContext } from 'preact';
import { useContext } from 'preact/hooks';
import type { AppParts } from './appParts.ts';

/** What main made, for every view below it. */
export const AppContext = createContext<AppParts | undefined>(undefined);

/** The desk and what has side effects; throws outside the window that main made. */
export const useApp = (): AppParts => {
  const app = useContext(AppContext);
  if (app === undefined) throw new Error('This view stands outside the app.');
  return app;
};
