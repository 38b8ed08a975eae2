import { answersAt, serve, type Serving } from '../loopback/server.ts';

/**
 * Serves the app, unless it is served at its port already: a browser ties the class library to the
 * address, so a second server at another port would show another, empty one.
 * @param options.open shows an address to the teacher
 * @returns undefined where the one that runs was opened instead
 */
export const serveOnce = async (options: {
  readonly root: string;
  readonly port: number;
  readonly open: (url: string) => void;
  readonly say: (line: string) => void;
}): Promise<Serving | undefined> => {
  const { root, port, open, say } = options;
  const started = await serve({ root, port }).catch(() => undefined);
  const running = `http://127.0.0.1:${String(port)}/`;
  if (started === undefined && (await answersAt(running))) {
    say(`Malletloom is running already, at ${running}.`);
    open(running);
    return undefined;
  }
  if (started === undefined)
    say(
      `Port ${String(port)} belongs to another program; using another. Work kept in the browser at the first stays there.`,
    );
  const serving = started ?? (await serve({ root, port: 0 }));
  say(`Malletloom is at ${serving.url} (Ctrl+C ends it).`);
  open(serving.url);
  return serving;
};
