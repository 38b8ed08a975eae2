import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { nameOfPupil } from '../../../core/piece/pupil.ts';
import { useApp } from '../../desk/appContext.ts';
import { choosePupil, giveTo } from '../../desk/commands/pupils.ts';
import { PupilChooser } from './pupilChooser.tsx';

/**
 * The first word of each place's sentence: whoever plays. Choosing another begins at an empty desk; what
 * lies here stays whose it is, unless it is given away.
 */
export const PupilWord = (): ComponentChildren => {
  const { desk } = useApp();
  const piece = desk.piece.value;
  const pupil = desk.pupil.value;
  const isNobodys = piece?.codeName === '';
  const [givesAway, setGivesAway] = useState(false);
  const gives = piece !== undefined && (isNobodys || givesAway);
  const heading = gives ? `Whose is ${piece.title}?` : 'Who plays?';
  return (
    <PupilChooser
      class="pupil-word"
      label={`${pupil === undefined && isNobodys ? 'Not yet given' : (pupil?.codeName ?? 'Nobody yet')}: ${heading}`}
      text={
        <>
          <span>{isNobodys ? 'Not yet given' : pupil === undefined ? 'Nobody yet' : nameOfPupil(pupil)}</span>
          <span class="caret" aria-hidden="true" />
        </>
      }
      heading={heading}
      offersNobody={pupil !== undefined}
      onChoose={chosen => {
        desk.run(gives ? giveTo : choosePupil, chosen);
        setGivesAway(false);
      }}
    >
      {() =>
        piece === undefined || isNobodys ? null : (
          <button
            class="plain word"
            aria-pressed={givesAway}
            onClick={() => {
              setGivesAway(!givesAway);
            }}
          >
            {givesAway ? `Leave ${piece.title} with ${piece.codeName}` : `Give ${piece.title} to another`}
          </button>
        )
      }
    </PupilChooser>
  );
};
