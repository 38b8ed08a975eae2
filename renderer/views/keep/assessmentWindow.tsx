import type { ComponentChildren } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { lengthWords } from '../../../core/evidence/lengthWords.ts';
import { MOST_ANSWER, NO_ASSESSMENT } from '../../../core/piece/assessment.ts';
import { pieceInWords } from '../../../core/piece/pupil.ts';
import { dayOf, lasting } from '../../desk/acts/evidence.ts';
import { useApp } from '../../desk/appContext.ts';
import {
  answer,
  askCriteria,
  askLength,
  askQuestions,
  giveFeedback,
  judge,
} from '../../desk/commands/assessment.ts';
import { showWindow } from '../../desk/commands/settings.ts';
import { SentenceChoice, SentenceNumber } from '../parts/sentence.tsx';
import { TYPING_PAUSE, useTyping } from '../parts/typing.ts';
import { useShownWindow } from '../parts/shownWindow.ts';

/** Words that are typed: taken over at every pause, so that none is lost with the window, and when the field is left. */
const Words = (props: {
  label: string;
  value: string;
  rows: number;
  /** @param goesOn whether these words were taken over before, since the field was entered */
  onChoose: (words: string, goesOn: boolean) => void;
}): ComponentChildren => (
  <label class="assessed">
    <span>{props.label}</span>
    <textarea
      rows={props.rows}
      maxLength={MOST_ANSWER}
      {...useTyping(props.value, props.onChoose, TYPING_PAUSE)}
    />
  </label>
);

/** A list that is typed, a line each: taken over when the field is left, for a line under way is no question yet. */
const Lines = (props: {
  label: string;
  value: string;
  onChoose: (typed: string) => void;
}): ComponentChildren => (
  <label class="assessed">
    <span>{props.label}</span>
    <textarea rows={4} maxLength={MOST_ANSWER} {...useTyping(props.value, props.onChoose)} />
  </label>
);

/** What the school asks for: a length, and the questions and criteria, a line each. */
const AskedOf = (): ComponentChildren => {
  const { desk } = useApp();
  const { questions, criteria, length } = desk.asked.value;
  return (
    <details class="asked-of">
      <summary>What is asked of every piece</summary>
      <p class="sentences">
        <SentenceChoice
          before="A piece may last"
          value={length === undefined ? 'any' : 'range'}
          choices={[
            { value: 'any', text: 'as long as it likes' },
            { value: 'range', text: 'so many seconds:' },
          ]}
          onChoose={value => {
            desk.run(askLength, value === 'any' ? undefined : { least: 60, most: 210 });
          }}
        />
        {length === undefined ? null : (
          <>
            <SentenceNumber
              before="from"
              value={length.least}
              least={0}
              most={3600}
              onChoose={least => {
                desk.run(askLength, { ...length, least });
              }}
            />
            <SentenceNumber
              before="to"
              value={length.most}
              least={0}
              most={3600}
              onChoose={most => {
                desk.run(askLength, { ...length, most });
              }}
            />
          </>
        )}
      </p>
      <div class="assessment-columns">
        <Lines
          label="Questions for the review, a line each"
          value={questions.join('\n')}
          onChoose={typed => {
            desk.run(askQuestions, typed);
          }}
        />
        <Lines
          label="Criteria, a line each"
          value={criteria.join('\n')}
          onChoose={typed => {
            desk.run(askCriteria, typed);
          }}
        />
      </div>
    </details>
  );
};

/** The pupil's review, what the teacher says, and everything that is handed in, of the piece on the desk. */
export const AssessmentWindow = (): ComponentChildren => {
  const { desk, evidence, keeper } = useApp();
  const dialog = useShownWindow();
  const [versions, setVersions] = useState<readonly string[]>([]);
  const piece = desk.piece.value;
  useEffect(() => {
    // What was never saved has no versions to ask for.
    if (piece === undefined || desk.document.peek().revisions[piece.id] === undefined) return;
    void keeper.versions(piece.id).then(all => {
      const kept = all.filter(saved => saved.draft !== true).map(saved => saved.savedAt);
      setVersions([...kept].sort().map(dayOf));
    });
  }, []);
  if (piece === undefined) return null;
  const { questions, criteria, length } = desk.asked.value;
  const { answers, judgements, feedback } = piece.assessment ?? NO_ASSESSMENT;
  const said = new Map(answers.map(one => [one.to, one.words]));
  const judged = new Map(judgements.map(one => [one.criterion, one.words]));
  const work = desk.work.value;
  return (
    <dialog
      ref={dialog}
      class="card assessment"
      aria-labelledby="assessment-title"
      onClose={() => {
        evidence.stop();
        desk.run(showWindow, undefined);
      }}
    >
      <h2 id="assessment-title">Review and evidence of {pieceInWords(piece)}</h2>
      <div class="assessment-columns">
        <section aria-label="The pupil’s review">
          <h3>The pupil’s review</h3>
          {[...new Set([...questions, ...said.keys()])].map(question => (
            <Words
              key={question}
              label={question}
              value={said.get(question) ?? ''}
              rows={3}
              onChoose={(words, goesOn) => {
                desk.run(answer, question, words, goesOn);
              }}
            />
          ))}
        </section>
        <section aria-label="What the teacher says">
          <h3>What the teacher says</h3>
          {[...new Set([...criteria, ...judged.keys()])].map(criterion => (
            <Words
              key={criterion}
              label={criterion}
              value={judged.get(criterion) ?? ''}
              rows={1}
              onChoose={(words, goesOn) => {
                desk.run(judge, criterion, words, goesOn);
              }}
            />
          ))}
          <Words
            label="Feedback for the pupil"
            value={feedback}
            rows={3}
            onChoose={(words, goesOn) => {
              desk.run(giveFeedback, words, goesOn);
            }}
          />
        </section>
      </div>
      <AskedOf />
      <p>
        It lasts {lengthWords(lasting(piece), length)}. The pack is one zip archive: the score and parts as
        PDF, a WAV recording, MIDI, MusicXML, and a sheet with how the piece came about, this review, and a
        declaration to be signed by hand. Where the school has rules or forms of its own, they come first.
      </p>
      <div class="assessment-foot">
        <button
          class="main-action"
          disabled={work !== undefined}
          onClick={() => void evidence.make(piece, versions)}
        >
          Make the evidence pack
        </button>
        <button class="second" disabled={work === undefined} onClick={evidence.stop}>
          Stop making it
        </button>
        <span role="status" class="quiet">
          {work?.text ?? desk.notice.value}
        </span>
        <form method="dialog">
          <button class="second">Close</button>
        </form>
      </div>
    </dialog>
  );
};
