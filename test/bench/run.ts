import { existsSync } from 'node:fs';
import { cpus, loadavg } from 'node:os';
import { fileURLToPath } from 'node:url';
import { buildRenderer } from '../../electron/cli/build.ts';
import { editing } from './editing.ts';
import { engraving } from './engraving.ts';
import { growing } from './growing.ts';
import { hearing } from './hearing.ts';
import { lesson, long } from './lesson.ts';
import { library } from './library.ts';
import { longTake } from './longTake.ts';
import { playable } from './playable.ts';
import { sound } from './sound.ts';
import { strike } from './strike.ts';
import { thread } from './thread.ts';

/** `npm run bench`, or some of it by name: `npm run bench -- engraving strike`. It prints; it judges nothing. */
type Bench = () => void | Promise<void>;

const READING = new URL('./reading.ts', import.meta.url);
const reading: Bench = async () => {
  if (!existsSync(READING)) {
    console.log('  Not measured: test/bench/reading.ts is missing from this copy.');
    return;
  }
  const found = (await import(READING.href)) as { readonly reading: Bench };
  await found.reading();
};

interface Described {
  readonly about: string;
  readonly run: Bench;
  /** Takes so long that it is run only where it is named. */
  readonly onlyNamed?: true;
}

const BENCHES: Readonly<Record<string, Described>> = {
  reading: { about: 'from strikes to rhythm', run: reading },
  thread: { about: 'reading in the browser, and how long the page stands still', run: thread },
  editing: { about: 'an edit in the app itself, up to the next picture', run: editing },
  growing: { about: 'trying a treatment, and the map of entries', run: growing },
  engraving: { about: 'from a piece to its score and to the drawn page', run: engraving },
  playable: { about: 'what a piece takes to play in a room', run: playable },
  sound: { about: 'making strokes, and a whole piece offline', run: sound },
  strike: { about: 'from a struck pad to the picture and the sound, in the app itself', run: strike },
  lesson: { about: 'starting, a piece that plays, and striking for long, in the app itself', run: lesson },
  long: { about: 'ten minutes of strikes, in the app itself', run: long, onlyNamed: true },
  longTake: {
    about: 'a take of thousands of strikes, from its file to the page, in the app itself',
    run: longTake,
  },
  hearing: { about: 'struck bars, in a recording and through the microphone', run: hearing },
  library: { about: 'reading a register of pieces', run: library },
};

const asked = process.argv.slice(2);
const unknown = asked.filter(name => !(name in BENCHES));
if (unknown.length > 0) {
  console.error(`There is no ${unknown.join(', ')}. There are: ${Object.keys(BENCHES).join(', ')}.`);
  process.exit(1);
}

const [first] = cpus();
const load = (loadavg()[0] ?? 0).toFixed(1);
console.log(
  `Node ${process.version}, ${String(cpus().length)} cores (${first?.model ?? 'unknown'}), load ${load} at the start.`,
);
// Some measure the built app; a clean checkout has none yet.
await buildRenderer(fileURLToPath(new URL('../..', import.meta.url)));
for (const [name, { about, run, onlyNamed }] of Object.entries(BENCHES)) {
  if (asked.length > 0 ? !asked.includes(name) : onlyNamed === true) continue;
  console.log(`\n${name}: ${about}`);
  try {
    await run();
  } catch (error) {
    // One that fails must not hide what the others measured.
    console.error(`  Not measured: ${error instanceof Error ? error.message : String(error)}`);
    process.exitCode = 1;
  }
}
