import type { ComponentChildren } from 'preact';
import { useEffect } from 'preact/hooks';
import { learnBars } from '../../core/hearing/barSet.ts';
import { INSTRUMENTS } from '../../core/instruments/instruments.ts';
import { useApp } from '../desk/appContext.ts';
import { forgetLearnt, keepLearnt, setLearning } from '../desk/commands/learning.ts';
import { currentRoom } from '../desk/commands/room.ts';
import { showWindow } from '../desk/commands/settings.ts';
import { stampedName } from './play/stamped.ts';
import { useShownWindow } from './parts/shownWindow.ts';

/** Every bar of the room struck once: which there are, and how each is tuned. */
export const LearnBars = (): ComponentChildren => {
  const { desk } = useApp();
  const dialog = useShownWindow();
  useEffect(() => {
    desk.run(setLearning, []);
    return () => {
      desk.run(setLearning, undefined);
    };
  }, []);
  const { instrument } = desk.playSettings.value;
  const { name, soundsAbove } = INSTRUMENTS[instrument];
  const struck = desk.learning.value ?? [];
  const found = learnBars(struck);
  const names = found.ok ? found.value.map(bar => stampedName(bar.sounding - soundsAbove)).join(', ') : '';
  const here = currentRoom(desk.now());
  const room = desk.rooms.value.all.find(one => one.id === here.id) ?? here;
  const known = room.tuned?.[instrument]?.length ?? 0;
  return (
    <dialog
      ref={dialog}
      class="card keys calibrate"
      aria-labelledby="learn-title"
      onClose={() => {
        desk.run(showWindow, undefined);
      }}
    >
      <h2 id="learn-title">Strike each bar once</h2>
      <p>
        Strike every bar of the {name.toLowerCase()} once, in any order, and let each ring for a moment. Then
        Malletloom knows which bars there are and how each is tuned, and takes none for its neighbour. It is
        remembered with {room.name}.
      </p>
      <p class="calibrate-state" aria-live="polite">
        {found.ok
          ? `${String(found.value.length)} bars: ${names}.`
          : struck.length === 0
            ? 'Nothing is heard yet.'
            : found.problem.kind === 'conflict'
              ? `${found.problem.what} ${found.problem.next}`
              : `${struck.length === 1 ? 'One strike' : `${String(struck.length)} strikes`} so far.`}
      </p>
      {known === 0 ? null : (
        <p>
          {known} bars are known.{' '}
          <button
            class="plain word"
            onClick={() => {
              desk.run(forgetLearnt);
            }}
          >
            forget them
          </button>
        </p>
      )}
      <div class="dialog-foot">
        <button
          class="main-action"
          disabled={!found.ok}
          onClick={() => {
            if (desk.run(keepLearnt)) dialog.current?.close();
          }}
        >
          Keep these bars
        </button>
        <button
          class="second"
          disabled={struck.length === 0}
          onClick={() => {
            desk.run(setLearning, []);
          }}
        >
          Begin again
        </button>
        <form method="dialog">
          <button class="second">Close</button>
        </form>
      </div>
    </dialog>
  );
};
