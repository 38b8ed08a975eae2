/** What it takes to come by a browser; handed in so that tests can be another computer. */
export interface Means {
  readonly find: () => string | undefined;
  /** Runs a program to its end; whether it went well. */
  readonly run: (program: string, args: readonly string[]) => boolean;
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly isRoot: boolean;
  readonly hasApt: boolean;
  readonly say: (line: string) => void;
}

/** The sentence for a machine on which none can be had. */
export const NO_BROWSER =
  'The journeys need Chromium, Chrome or Edge; none was found and none could be fetched. On Debian: apt-get install chromium; elsewhere set MALLETLOOM_CHROMIUM to the program.';

/**
 * A browser for the tests: one that is there; else Playwright's own download, unless MALLETLOOM_NO_DOWNLOAD is
 * set; else Debian's package, where the user may install one. Undefined when there is none to be had.
 */
export const getBrowser = (means: Means): string | undefined => {
  const found = means.find();
  if (found !== undefined) return found;
  if ((means.env['MALLETLOOM_NO_DOWNLOAD'] ?? '') === '') {
    means.say('No browser was found: Playwright fetches one of its own.');
    if (means.run('npx', ['playwright', 'install', 'chromium'])) {
      const own = means.find();
      if (own !== undefined) return own;
    }
  }
  if (means.isRoot && means.hasApt) {
    means.say("No browser was found: installing Debian's chromium.");
    if (means.run('apt-get', ['update', '-qq']) && means.run('apt-get', ['install', '-y', '-qq', 'chromium']))
      return means.find();
  }
  return undefined;
};
