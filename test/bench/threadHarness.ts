// Bundled into an empty page by thread.ts.
import { readTake } from '../../core/reading/read.ts';
import type { Take } from '../../core/take/take.ts';

/** The longest time between two turns of the page's own thread, until told to stop. */
const watch = (): (() => number) => {
  const channel = new MessageChannel();
  let last = performance.now();
  let most = 0;
  let on = true;
  channel.port1.onmessage = () => {
    const now = performance.now();
    most = Math.max(most, now - last);
    last = now;
    if (on) channel.port2.postMessage(0);
  };
  channel.port2.postMessage(0);
  return () => {
    on = false;
    channel.port1.close();
    return most;
  };
};

const measure = async (
  take: Take,
  workerCode: string,
  runs: number,
): Promise<{ here: number[]; there: number[]; still: number[]; idle: number[] }> => {
  const worker = new Worker(URL.createObjectURL(new Blob([workerCode], { type: 'text/javascript' })));
  const ask = (number: number): Promise<void> =>
    new Promise(resolve => {
      worker.onmessage = () => {
        resolve();
      };
      worker.postMessage({ number, take, hints: {} });
    });
  await ask(0);
  readTake(take, {});
  const here: number[] = [];
  const there: number[] = [];
  const still: number[] = [];
  const idle: number[] = [];
  for (let run = 0; run < runs; run++) {
    const start = performance.now();
    readTake(take, {});
    here.push(performance.now() - start);
    await new Promise(resolve => setTimeout(resolve, 5));
    const stop = watch();
    const asked = performance.now();
    await ask(run + 1);
    there.push(performance.now() - asked);
    still.push(stop());
    const stopIdle = watch();
    await new Promise(resolve => setTimeout(resolve, 30));
    idle.push(stopIdle());
  }
  worker.terminate();
  return { here, there, still, idle };
};

const threadHarness = { measure };
export type ThreadHarness = typeof threadHarness;
Object.assign(globalThis, { threadHarness });
