import type { ComponentChildren } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { useApp } from '../desk/appContext.ts';
import { showWindow } from '../desk/commands/settings.ts';
import { useShownWindow } from './parts/shownWindow.ts';

/** The version of this copy; the bundler writes it in. */
declare const __VERSION__: string | undefined;
const VERSION = typeof __VERSION__ === 'undefined' ? 'from its sources' : __VERSION__;

/** Which Malletloom this is, its licence, and those of what it is built from. */
export const About = (): ComponentChildren => {
  const { desk } = useApp();
  const dialog = useShownWindow();
  const [notices, setNotices] = useState('');
  useEffect(() => {
    void fetch('./notices.txt')
      .then(answer => (answer.ok ? answer.text() : Promise.reject(new Error('missing'))))
      .catch(
        () =>
          'The notices are missing from this copy. They lie beside the sources as THIRD-PARTY-NOTICES.md.',
      )
      .then(setNotices);
  }, []);
  return (
    <dialog
      ref={dialog}
      class="card about"
      aria-labelledby="about-title"
      onClose={() => {
        desk.run(showWindow, undefined);
      }}
    >
      <h2 id="about-title">Malletloom {VERSION}</h2>
      <p>
        Catches a pupil’s idea on tuned percussion, writes it in correct rhythm, grows it into a piece, keeps
        it. Nothing leaves this machine. Free under the MIT licence; a new version is only there once somebody
        puts it here.
      </p>
      <h3 id="about-notices">What it is built from</h3>
      <pre class="notices" tabIndex={0} role="region" aria-labelledby="about-notices">
        {notices}
      </pre>
      <form method="dialog">
        <button class="second">Close</button>
      </form>
    </dialog>
  );
};
