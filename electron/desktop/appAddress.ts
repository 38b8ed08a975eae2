/** The app's own scheme and origin in the desktop edition. */
export const SCHEME = 'app';
export const ORIGIN = `${SCHEME}://malletloom`;
export const START = `${ORIGIN}/index.html`;

/** Whether an address is a page of the app itself. */
export const isOurs = (address: string): boolean => {
  try {
    const url = new URL(address);
    return url.protocol === `${SCHEME}:` && url.host === 'malletloom';
  } catch {
    return false;
  }
};
