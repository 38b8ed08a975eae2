import type { ComponentChildren } from 'preact';
import { useEffect, useMemo, useState } from 'preact/hooks';
import { factsOf } from '../../../core/library/facts.ts';
import type { RegisterEntry } from '../../../core/library/library.ts';
import type { Saved } from '../../../core/library/revision.ts';
import { pieceInWords } from '../../../core/piece/pupil.ts';
import { scoreToHandOn } from '../../desk/acts/handOn.ts';
import { useApp } from '../../desk/appContext.ts';
import { bringBack } from '../../desk/commands/open.ts';
import { showWindow } from '../../desk/commands/settings.ts';
import { newId } from '../../desk/newId.ts';
import { Incipit } from '../parts/incipit.tsx';
import { when } from './row.tsx';
import { useShownWindow } from '../parts/shownWindow.ts';

/** One revision, seen and heard. */
const Version = (props: {
  saved: Saved;
  children: ComponentChildren;
  newest: boolean;
}): ComponentChildren => {
  const { desk, listening } = useApp();
  const { saved } = props;
  const score = useMemo(() => scoreToHandOn(saved.piece), [saved]);
  const isHeard = desk.hearing.value?.of === saved.revision;
  const facts = factsOf(saved.piece);
  const name = `${saved.draft === true ? 'draft' : 'version'} of ${when(saved.savedAt)}`;
  return (
    <li class="version">
      <p>
        <b>{name}</b>
        {props.newest ? ' (newest)' : ''}
        <br />
        <span class="quiet">
          {saved.piece.title}, {facts.key}, {facts.metres.join(', ')}, {score.barCount}{' '}
          {score.barCount === 1 ? 'bar' : 'bars'}, {facts.treatments.join(', ') || 'nothing added'}
        </span>
      </p>
      <Incipit score={score} bars={4} label={`How the ${name} begins`} scale={0.6} />
      <div class="row-tools">
        <button
          class="tool"
          aria-label={`${isHeard ? 'Stop' : 'Hear'} the ${name}`}
          aria-pressed={isHeard}
          onClick={() => {
            if (isHeard) listening.stop();
            else listening.score('piece', score, { of: saved.revision });
          }}
        >
          {isHeard ? 'Stop' : 'Hear'}
        </button>
        {props.children}
      </div>
    </li>
  );
};

/** Two newest versions side by side: one is kept, or both. */
const Settling = (props: {
  entry: RegisterEntry;
  heads: readonly Saved[];
  onDone: () => void;
}): ComponentChildren => {
  const { desk, keeper } = useApp();
  const { entry, heads, onDone } = props;
  const keepOne = async (one: Saved): Promise<void> => {
    if (!(await keeper.settle(entry, one.piece, 'Settled; the other stays among the versions.'))) return;
    if (desk.piece.peek()?.id === entry.id) desk.run(bringBack, { ...entry, piece: one.piece }, one.piece);
    onDone();
  };
  const keepBoth = async (): Promise<void> => {
    for (const [i, other] of heads.slice(1).entries()) {
      const title = `${other.piece.title} ${String(i + 2)}`;
      // Each of the others first: nothing is settled before it stands on its own.
      if (!(await keeper.keepBeside({ ...other.piece, id: newId(), title }))) return;
    }
    const [first] = heads;
    if (first !== undefined && (await keeper.settle(entry, first.piece, 'Both are in the register.')))
      onDone();
  };
  return (
    <>
      <p>
        Two windows or machines changed {pieceInWords(entry.facts)} at the same time. Hear both, then keep one
        or both; nothing is thrown away.
      </p>
      <ul class="versions side-by-side">
        {heads.map((saved, i) => (
          <Version key={saved.revision} saved={saved} newest={false}>
            <button class="second" onClick={() => void keepOne(saved)}>
              Keep {i === 0 ? 'this one' : i === 1 ? 'the other' : `number ${String(i + 1)}`}
            </button>
          </Version>
        ))}
      </ul>
      <button class="main-action small" onClick={() => void keepBoth()}>
        Keep both
      </button>
    </>
  );
};

/** The versions of one piece: see, hear, compare, bring back. */
export const Versions = (): ComponentChildren => {
  const { desk, keeper, listening } = useApp();
  const dialog = useShownWindow();
  const [all, setAll] = useState<readonly Saved[]>([]);
  const [compared, setCompared] = useState<readonly string[]>([]);
  const id = desk.looking.value;
  const entry = desk.library.value.entries.find(one => one.id === id);
  useEffect(() => {
    if (id !== undefined) void keeper.versions(id).then(setAll);
  }, [id, entry]);
  if (entry === undefined) return null;
  const rivals = [entry.revision, ...entry.rivals];
  const heads = all.filter(saved => rivals.includes(saved.revision));
  const isSettling = entry.rivals.length > 0 && heads.length > 1;
  const shown = compared.length === 2 ? all.filter(saved => compared.includes(saved.revision)) : all;
  const close = (): void => dialog.current?.close();
  return (
    <dialog
      ref={dialog}
      class="card versions-window"
      aria-labelledby="versions-title"
      onClose={() => {
        listening.stop();
        desk.run(showWindow, undefined);
      }}
    >
      <h2 id="versions-title">
        {isSettling ? 'Two versions of' : 'Versions of'} {pieceInWords(entry.facts)}
      </h2>
      {isSettling ? (
        <Settling entry={entry} heads={heads} onDone={close} />
      ) : (
        <ul class={`versions${compared.length === 2 ? ' side-by-side' : ''}`}>
          {shown.map(saved => (
            <Version key={saved.revision} saved={saved} newest={saved.revision === entry.revision}>
              <button
                class="tool"
                aria-pressed={compared.includes(saved.revision)}
                onClick={() => {
                  setCompared(
                    compared.includes(saved.revision)
                      ? compared.filter(one => one !== saved.revision)
                      : [...compared, saved.revision].slice(-2),
                  );
                }}
              >
                Compare
              </button>
              <button
                class="tool"
                onClick={() => {
                  const newest = all.find(one => one.revision === entry.revision) ?? saved;
                  desk.run(bringBack, { ...entry, piece: newest.piece }, saved.piece);
                  close();
                }}
              >
                Bring back
              </button>
            </Version>
          ))}
        </ul>
      )}
      <form method="dialog" class="dialog-foot">
        <button class="second">Close</button>
        {isSettling ? null : (
          <span class="quiet">Bringing one back is a step that can be undone; the others stay.</span>
        )}
      </form>
    </dialog>
  );
};
