import { spawn } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { chromium, type Page } from 'playwright/test';
import { serve } from '../../electron/loopback/server.ts';
import { findQuickChromium } from '../browser.ts';
import { takeBytes } from '../tools/takeBytes.ts';
import { chance } from './chance.ts';

export interface BrowserReport {
  readonly kills: number;
  readonly steps: number;
  /** Steps after which the sign said that everything is safe. */
  readonly safe: number;
  /** What was there instead of a step that was said to be safe. */
  readonly lost: readonly string[];
  /** Last steps before a kill that were not yet said to be safe, and how many of them were there again. */
  readonly unsaid: number;
  readonly kept: number;
}

const IDEA = {
  bpm: 96,
  click: true,
  strikes: [0, 1, 2, 3, 4, 5, 6, 7].map(at => [at, 60] as const),
};
/** Steps until a new idea is opened: each of eight notes goes up by so many. */
const UPS = 6;

const PORT_LINE = /DevTools listening on (ws:\S+)/;

/** A Chromium of its own that can be killed as a whole. */
const startBrowser = async (profile: string) => {
  const program = spawn(
    findQuickChromium() ?? chromium.executablePath(),
    [
      '--headless=new',
      '--no-sandbox',
      '--no-first-run',
      '--disable-background-networking',
      '--remote-debugging-port=0',
      `--user-data-dir=${profile}`,
      'about:blank',
    ],
    { stdio: ['ignore', 'ignore', 'pipe'], detached: true },
  );
  const address = await new Promise<string>((done, fail) => {
    let said = '';
    program.stderr.on('data', (chunk: Buffer) => {
      said += chunk.toString();
      const found = PORT_LINE.exec(said)?.[1];
      if (found !== undefined) done(found);
    });
    program.once('exit', () => {
      fail(new Error(`the browser ended: ${said.slice(-400)}`));
    });
  });
  const browser = await chromium.connectOverCDP(address);
  const ended = new Promise(done => program.once('close', done));
  return {
    browser,
    kill: async (): Promise<void> => {
      // The whole group: a renderer left alone could still finish what it was writing.
      process.kill(-(program.pid ?? 0), 'SIGKILL');
      await ended;
      await browser.close().catch(() => undefined);
    },
  };
};

const words = (page: Page): Promise<string> =>
  page.locator('.in-words li').evaluateAll(all => all.map(one => one.textContent).join('; '));

/**
 * Kills browsers in the middle of work, and looks whether the app stands again where it was said to be safe.
 */
export const killBrowsers = async (kills: number, seed: number): Promise<BrowserReport> => {
  const profile = await mkdtemp(join(tmpdir(), 'malletloom-torture-'));
  const root = fileURLToPath(new URL('../../dist/renderer', import.meta.url));
  const serving = await serve({ root, port: 0 });
  const random = chance(seed);
  const lost: string[] = [];
  let steps = 0;
  let safe = 0;
  let unsaid = 0;
  let kept = 0;
  /** The last page said to be safe, and those after it; undefined before anything was opened. */
  let held: string | undefined;
  let later: string[] = [];
  let done = 0;
  for (let k = 0; k < kills; k++) {
    const { browser, kill } = await startBrowser(profile);
    const page = await (browser.contexts()[0] ?? (await browser.newContext())).newPage();
    await page.goto(serving.url);
    const saySafe = async (): Promise<void> => {
      await page.locator('.safe-sign.safe').waitFor();
      held = await words(page);
      later = [];
      safe++;
    };
    if (held === undefined || done >= UPS * IDEA.strikes.length) {
      // Where everything was done with the last idea, its page lies here again.
      await page.getByRole('navigation', { name: 'Places' }).getByRole('button', { name: 'Play' }).click();
      await page.getByRole('button', { name: 'Catch that' }).waitFor();
      await page
        .locator('input[type=file]')
        .first()
        .setInputFiles({ name: 'idea.mid', mimeType: 'audio/midi', buffer: takeBytes(IDEA) });
      done = 0;
      await page.locator('.system svg').first().waitFor();
      await saySafe();
    } else {
      await page.locator('.system svg').first().waitFor();
      const now = await words(page);
      if (now !== held && !later.includes(now)) lost.push(`kill ${String(k)}: ${now} instead of ${held}`);
      if (later.length > 0) {
        unsaid++;
        if (now === later.at(-1)) kept++;
      }
      // What was not kept is done again from where it stands.
      done += later.indexOf(now) + 1;
      held = now;
      later = [];
    }
    const step = async (): Promise<void> => {
      const before = await words(page);
      await page
        .locator('.vf-stavenote[data-refs]:not([data-refs=""])')
        .nth(Math.floor(done / UPS) % IDEA.strikes.length)
        .click();
      await page.keyboard.press('Alt+ArrowUp');
      await page.waitForFunction(
        was => [...document.querySelectorAll('.in-words li')].map(one => one.textContent).join('; ') !== was,
        before,
      );
      steps++;
    };
    for (let more = Math.floor(random() * 3); more > 0; more--) {
      await step();
      done++;
      await saySafe();
    }
    await step();
    later.push(await words(page));
    await wait(random() * 400);
    await kill();
  }
  await serving.close();
  await rm(profile, { recursive: true, force: true, maxRetries: 5 });
  return { kills, steps, safe, lost, unsaid, kept };
};
