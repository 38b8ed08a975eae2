/** The oldest Node the desktop edition's runtime takes (its `engines`), as [major, minor]. */
const DESKTOP = [22, 12] as const;

/**
 * One plain line where this Node is too old for the desktop edition; undefined where it is not.
 * @param version as process.version gives it
 * @example aboutNode('v20.20.2') // 'Node v20.20.2 runs the browser edition and the tests; the desktop edition needs Node 22.12 or newer.'
 */
export const aboutNode = (version: string): string | undefined => {
  const [major = 0, minor = 0] = version.replace(/^v/, '').split('.').map(Number);
  const [least, leastMinor] = DESKTOP;
  return major > least || (major === least && minor >= leastMinor)
    ? undefined
    : `Node ${version} runs the browser edition and the tests; the desktop edition needs Node ${String(least)}.${String(leastMinor)} or newer.`;
};
