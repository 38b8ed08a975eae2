import { describe, expect, it } from 'vitest';
import { getBrowser, type Means } from '../getBrowser.ts';

/** A machine on which these programs succeed and put a browser there; what ran, and what was said. */
const machine = (
  works: readonly string[],
  given: Partial<Means> & { readonly there?: string } = {},
): { means: Means; ran: string[]; said: string[] } => {
  const ran: string[] = [];
  const said: string[] = [];
  let browser = given.there;
  const means: Means = {
    find: () => browser,
    run: (program, args) => {
      const line = [program, ...args].join(' ');
      ran.push(line);
      const ok = works.some(start => line.startsWith(start));
      if (ok && line.includes('install')) browser = `/got/by/${program}`;
      return ok;
    },
    env: {},
    isRoot: true,
    hasApt: true,
    say: line => said.push(line),
    ...given,
  };
  return { means, ran, said };
};

describe('a browser for the tests', () => {
  it('is the one that is there, and nothing is fetched or said', () => {
    const { means, ran, said } = machine(['npx', 'apt-get'], { there: '/usr/bin/chromium' });
    expect(getBrowser(means)).toBe('/usr/bin/chromium');
    expect([ran, said]).toEqual([[], []]);
  });

  it('is fetched by Playwright, and said so', () => {
    const { means, ran, said } = machine(['npx', 'apt-get']);
    expect(getBrowser(means)).toBe('/got/by/npx');
    expect([ran, said.length]).toEqual([['npx playwright install chromium'], 1]);
  });

  it("is Debian's package where nothing may be downloaded or the download fails", () => {
    const offline = machine(['apt-get']);
    expect(getBrowser(offline.means)).toBe('/got/by/apt-get');
    expect(offline.ran).toEqual([
      'npx playwright install chromium',
      'apt-get update -qq',
      'apt-get install -y -qq chromium',
    ]);
    const refused = machine(['npx', 'apt-get'], { env: { MALLETLOOM_NO_DOWNLOAD: '1' } });
    expect(getBrowser(refused.means)).toBe('/got/by/apt-get');
    expect(refused.ran).toHaveLength(2);
  });

  it('is none where nothing helps; packages are for those who may install them', () => {
    expect(getBrowser(machine([]).means)).toBeUndefined();
    const user = machine(['apt-get'], { isRoot: false });
    expect(getBrowser(user.means)).toBeUndefined();
    const mac = machine(['apt-get'], { hasApt: false });
    expect(getBrowser(mac.means)).toBeUndefined();
    expect([user.ran, mac.ran]).toEqual([
      ['npx playwright install chromium'],
      ['npx playwright install chromium'],
    ]);
    const failing = machine(['apt-get update']);
    expect(getBrowser(failing.means)).toBeUndefined();
  });
});
