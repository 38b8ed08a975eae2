import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import { buildRenderer } from '../../electron/cli/build.ts';

// `npm run check:size`: what a school's old computer must load, in kB as it is stored and as it is sent.

/** Most that each kind of file may hold, in kB; raise one only with the reason beside it. */
const BUDGETS: readonly {
  readonly what: string;
  readonly name: RegExp;
  readonly kB: number;
  readonly gzip: number;
}[] = [
  // VexFlow, with Bravura inside, is about 1000 kB of it.
  { what: 'the app', name: /^index-.*\.js$/, kB: 1500, gzip: 680 },
  // 124 kB since it hears glissandi: room for what comes next.
  { what: 'the reader’s thread', name: /^readerWorker-.*\.js$/, kB: 130, gzip: 45 },
  // 61 kB since a recording can be heard again by what was put right.
  { what: 'the threads that open files', name: /^(midiFile|hearing)Worker-.*\.js$/, kB: 70, gzip: 26 },
  // zod and the shape of a piece are most of it.
  { what: 'the thread of portable files', name: /^portableWorker-.*\.js$/, kB: 130, gzip: 45 },
  {
    what: 'paper, loaded when it is wanted',
    name: /^(makePdf|systems|printedPages|picture|png)-.*\.js$/,
    kB: 1000,
    gzip: 460,
  },
  { what: 'styles', name: /\.css$/, kB: 46, gzip: 11 },
];

const project = fileURLToPath(new URL('../..', import.meta.url));
await buildRenderer(project);
const folder = join(project, 'dist', 'renderer', 'assets');
const files = readdirSync(folder).map(name => ({ name, bytes: readFileSync(join(folder, name)) }));
const inKB = (bytes: number): number => Math.round(bytes / 1000);

let tooLarge = 0;
for (const { what, name, kB, gzip } of BUDGETS) {
  const mine = files.filter(file => name.test(file.name));
  const size = inKB(mine.reduce((so, file) => so + file.bytes.length, 0));
  const sent = inKB(mine.reduce((so, file) => so + gzipSync(file.bytes).length, 0));
  const isTooLarge = mine.length === 0 || size > kB || sent > gzip;
  if (isTooLarge) tooLarge += 1;
  console.log(
    `${isTooLarge ? 'TOO LARGE' : 'fits     '} ${what}: ${String(size)} of ${String(kB)} kB, sent as ${String(sent)} of ${String(gzip)} kB`,
  );
}
if (tooLarge > 0) process.exitCode = 1;
