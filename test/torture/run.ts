import { fileURLToPath } from 'node:url';
import { buildRenderer } from '../../electron/cli/build.ts';
import { killBrowsers } from './browsers.ts';
import { type DiskReport, failDisks, fillDisk } from './disks.ts';
import { killHosts } from './hosts.ts';
import { listenLong } from './listening.ts';
import { openSpoilt } from './spoilt.ts';

// npm run torture -- --hosts 250 --browsers 100 --disks 400 --spoilt 5000 --listening 60 --seed 1
// Kills hosts and browsers in the middle of saving, lets disks fail, opens spoilt files, listens for an hour, and looks what
// is left. Not part of npm test, where a short form of the first four runs.

const option = (name: string, usual: number): number => {
  const at = process.argv.indexOf(`--${name}`);
  const given = Number(process.argv[at + 1]);
  return at < 0 || !Number.isInteger(given) || given < 0 ? usual : given;
};
const seed = option('seed', 1);
const hosts = option('hosts', 250);
const browsers = option('browsers', 100);
const disks = option('disks', 400);
const spoiltFiles = option('spoilt', 5000);
const listening = option('listening', 60);

if (hosts > 0) {
  const report = await killHosts(hosts, seed);
  console.log(
    `Hosts: ${String(2 * report.kills)} kills (two writers at a time), ${String(report.acknowledged)} acknowledged saves, ` +
      `${String(report.lost.length)} lost, ${String(report.damaged.length)} files damaged, ` +
      `${String(report.leftovers)} temporaries left, ${String(report.leftAfterTidying)} of them after tidying.`,
  );
  for (const line of [...report.lost, ...report.damaged].slice(0, 20)) console.log(`  ${line}`);
  if (report.lost.length + report.damaged.length + report.leftAfterTidying > 0) process.exitCode = 1;
}
if (browsers > 0) {
  await buildRenderer(fileURLToPath(new URL('../..', import.meta.url)));
  const report = await killBrowsers(browsers, seed);
  console.log(
    `Browsers: ${String(report.kills)} kills, ${String(report.steps)} steps, ${String(report.safe)} said to be safe, ` +
      `${String(report.lost.length)} safe steps lost; of ${String(report.unsaid)} steps not yet said to be safe ${String(report.kept)} were kept.`,
  );
  for (const line of report.lost.slice(0, 20)) console.log(`  ${line}`);
  if (report.lost.length > 0) process.exitCode = 1;
}

const tellDisk = (what: string, report: DiskReport): void => {
  const refused = Object.entries(report.refused).map(([kind, count]) => `${String(count)} ${kind}`);
  console.log(
    `${what}: ${String(report.acknowledged)} acknowledged saves, ${String(report.lost.length)} lost, ` +
      `${String(report.damaged.length)} files damaged, refused ${refused.join(', ')}; ` +
      `${String(report.leftAfterTidying)} temporaries left after tidying; ${report.isWell ? 'saves again' : 'DOES NOT SAVE AGAIN'}.`,
  );
  for (const line of [...report.lost, ...report.damaged].slice(0, 20)) console.log(`  ${line}`);
  if (report.lost.length + report.damaged.length + report.leftAfterTidying > 0 || !report.isWell)
    process.exitCode = 1;
};
if (disks > 0) {
  tellDisk('Failing disk', await failDisks(disks, seed));
  const full = await fillDisk(100);
  if (full === undefined) console.log('Full disk: not tried, no file system may be mounted here.');
  else tellDisk('Full disk', full);
}

if (spoiltFiles > 0) {
  for (const { kind, tried, opened, refused, faults, slowest } of await openSpoilt(spoiltFiles, seed)) {
    console.log(
      `Spoilt ${kind}: ${String(tried)}, of which ${String(opened)} opened and ${String(refused)} were refused in sentences; ` +
        `${String(faults.length)} faults; the slowest took ${slowest.toFixed(0)} ms.`,
    );
    for (const line of faults.slice(0, 20)) console.log(`  ${line}`);
    if (faults.length > 0) process.exitCode = 1;
  }
}

/** More than this in use at the end than after the first fifth, in megabytes, is a leak (our choice). */
const FLAT = 2;
if (listening > 0) {
  for (const { ear, minutes, perMinute, struckPerMinute, heap } of listenLong(listening)) {
    const early = heap[Math.floor(heap.length / 5)] ?? 0;
    const grown = (heap.at(-1) ?? 0) - early;
    const missed = perMinute.filter(told => told !== struckPerMinute).length;
    console.log(
      `Listening for ${ear}: ${String(minutes)} minutes, ${String(struckPerMinute)} strikes in each; minutes with another number told: ${String(missed)}. ` +
        `In use after a fifth ${early.toFixed(1)} MB, at the end ${grown < 0 ? '' : '+'}${grown.toFixed(2)} MB.`,
    );
    if (grown > FLAT || missed > 0) process.exitCode = 1;
  }
}
