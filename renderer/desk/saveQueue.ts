import { detailOf, failed, type Problem, type Result } from '../../core/foundation/result.ts';

export interface SaveQueueOptions {
  /** Longest time one save may take before it is called lost, in ms. */
  readonly limit: number;
  readonly onProblem: (problem: Problem) => void;
}

/** Saves, one after the other: a press of Keep while one is under way waits for it and builds on it. */
export interface SaveQueue {
  /**
   * @param save asked when its turn comes; what it gives is handed to `done`, also when it comes after
   *   the limit: a save that was late is a save
   */
  readonly inTurn: <T>(save: () => Promise<Result<T>>, done: (saved: T) => void) => Promise<void>;
  /** Waits no longer for the save under way, nor for those behind it. */
  readonly stop: () => void;
  readonly dispose: () => void;
}

const KEPT = 'It is still open here, with everything that can be undone.';

const late: Problem = {
  kind: 'folder-refused',
  what: 'The class library does not answer.',
  kept: KEPT,
  next: 'Look whether its folder or drive is there, then try again.',
};

const broken = (thrown: unknown): Problem => ({
  kind: 'unexpected',
  what: 'The piece could not be kept.',
  kept: KEPT,
  next: 'Try again; if it happens again, export the MusicXML file.',
  detail: detailOf(thrown),
});

export const createSaveQueue = (options: SaveQueueOptions): SaveQueue => {
  let line: Promise<void> = Promise.resolve();
  let round = 0;
  let giveUp: (() => void) | undefined;

  const once = async <T>(save: () => Promise<Result<T>>, done: (saved: T) => void): Promise<void> => {
    let timer: ReturnType<typeof setTimeout> | undefined;
    const tooLong = new Promise<Result<T>>(resolve => {
      giveUp = () => {
        resolve(failed(late));
      };
      timer = setTimeout(giveUp, options.limit);
    });
    const saved = save().then(
      result => {
        if (result.ok) done(result.value);
        return result;
      },
      (thrown: unknown) => failed(broken(thrown)),
    );
    const result = await Promise.race([saved, tooLong]);
    clearTimeout(timer);
    giveUp = undefined;
    if (!result.ok) options.onProblem(result.problem);
  };

  const stop = (): void => {
    round += 1;
    giveUp?.();
  };
  return {
    inTurn: (save, done) => {
      const mine = round;
      line = line.then(() => (mine === round ? once(save, done) : undefined));
      return line;
    },
    stop,
    dispose: stop,
  };
};
