/** The middle of some times; the upper one of two. NaN when there are none. */
export const median = (times: readonly number[]): number =>
  [...times].sort((a, b) => a - b)[Math.floor(times.length / 2)] ?? Number.NaN;

/** Milliseconds that `work` takes, `runs` times over, after one that is not counted. */
export const timesOf = (runs: number, work: () => void): readonly number[] => {
  work();
  return Array.from({ length: runs }, () => {
    const start = performance.now();
    work();
    return performance.now() - start;
  });
};

/** Milliseconds to three figures or so: 0.412, 4.12, 41.2, 412. */
export const ms = (time: number): string => time.toFixed(time < 1 ? 3 : time < 10 ? 2 : time < 100 ? 1 : 0);

/** Prints rows under their titles, in columns set to the right. */
export const printTable = (titles: readonly string[], rows: readonly (readonly string[])[]): void => {
  const widths = titles.map((title, i) => Math.max(title.length, ...rows.map(row => row[i]?.length ?? 0)));
  for (const row of [titles, ...rows]) {
    console.log(`  ${row.map((cell, i) => cell.padStart(widths[i] ?? 0)).join('   ')}`);
  }
};
