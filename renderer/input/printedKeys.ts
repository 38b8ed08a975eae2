/** What a keyboard of the United States prints on the keys that strike bars and have no letter's name. */
const PRINTED: Readonly<Record<string, string>> = { Semicolon: ';', Quote: '’', BracketLeft: '[' };

/** Some browsers know what is printed on this computer's keys (W3C, Keyboard Map); the type library does not yet. */
interface KnowsKeys {
  readonly keyboard?: { readonly getLayoutMap?: () => Promise<ReadonlyMap<string, string>> };
}

/**
 * What is printed on a key, as far as the browser knows; otherwise as in the United States.
 * @param code of the key by its place (UI Events KeyboardEvent code values)
 * @param layout what the browser knows of this keyboard
 * @example printedOnKey('KeyA', new Map([['KeyA', 'q']])) // "Q"
 */
export const printedOnKey = (code: string, layout: ReadonlyMap<string, string> = new Map()): string =>
  (layout.get(code) ?? PRINTED[code] ?? code.replace(/^Key/, '')).toUpperCase();

/** What the browser knows of this computer's keyboard; nothing where it tells nobody. */
export const keyLayout = async (): Promise<ReadonlyMap<string, string>> => {
  try {
    const { keyboard } = navigator as KnowsKeys;
    return (await keyboard?.getLayoutMap?.()) ?? new Map<string, string>();
  } catch {
    return new Map();
  }
};
