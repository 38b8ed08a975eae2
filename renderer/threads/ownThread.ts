/** Why a question on a thread of its own has no answer. */
export type Unanswered = 'time' | 'stopped' | { readonly broke: string };

/** What a question is asked with. */
export interface ThreadOptions {
  /** Longest time it may take, in ms. */
  readonly limit: number;
  /** Ends it when it is raised. */
  readonly signal: AbortSignal;
}

/** What a thread was asked, answered; or why it was not. */
export type Asked<Answer> =
  { readonly ok: true; readonly value: Answer } | { readonly ok: false; readonly why: Unanswered };

/**
 * Asks one question of a thread that lives for it alone, so that the page never stands still and the work
 * can be ended at any moment, whatever it is doing. Never rejects; the thread is gone afterwards.
 * @param start starts the thread; it posts one answer to one question
 * @example
 * const asked = await onOwnThread<Sum>(() => new Worker(url), [1, 2], { limit: 1000, signal });
 */
export const onOwnThread = async <Answer>(
  start: () => Pick<Worker, 'addEventListener' | 'postMessage' | 'terminate'>,
  question: unknown,
  { limit, signal }: ThreadOptions,
): Promise<Asked<Answer>> => {
  if (signal.aborted) return { ok: false, why: 'stopped' };
  let timer: ReturnType<typeof setTimeout> | undefined;
  let onStop: (() => void) | undefined;
  let thread: ReturnType<typeof start> | undefined;
  try {
    thread = start();
    const asked = thread;
    return await new Promise<Asked<Answer>>(done => {
      const unanswered = (why: Unanswered): void => {
        done({ ok: false, why });
      };
      timer = setTimeout(() => {
        unanswered('time');
      }, limit);
      onStop = () => {
        unanswered('stopped');
      };
      signal.addEventListener('abort', onStop);
      asked.addEventListener('message', event => {
        done({ ok: true, value: (event as MessageEvent<Answer>).data });
      });
      asked.addEventListener('error', event => {
        unanswered({ broke: event.message });
      });
      asked.addEventListener('messageerror', () => {
        unanswered({ broke: 'the answer could not be read' });
      });
      asked.postMessage(question);
    });
  } catch (thrown) {
    return { ok: false, why: { broke: thrown instanceof Error ? thrown.message : String(thrown) } };
  } finally {
    clearTimeout(timer);
    if (onStop !== undefined) signal.removeEventListener('abort', onStop);
    thread?.terminate();
  }
};
