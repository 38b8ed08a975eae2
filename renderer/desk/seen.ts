import { computed, type ReadonlySignal } from '@preact/signals';
import {
  corrected,
  motifOf,
  type Piece,
  pieceScore,
  planOf,
  readingScore,
  readingScoreInSlices,
} from '../../core/piece/piece.ts';
import { key } from '../../core/foundation/key.ts';
import { checkPlayable } from '../../core/playable/check.ts';
import { add } from '../../core/foundation/fraction.ts';
import { secondsAtOnset } from '../../core/playback/seconds.ts';
import { registerRows } from '../../core/library/register.ts';
import { isInRegister } from './commands/aside.ts';
import { classNow, nextOf } from './commands/classes.ts';
import { classKeyOf, keyEvidence } from './keyEvidence.ts';
import { canLimit, likeElsewhere } from './commands/pins.ts';
import { canHearAgain, canKeepSound } from './commands/hearingAgain.ts';
import { givesClickBack } from './commands/reading.ts';
import { pitchingNow } from './commands/pitching.ts';
import { isRehearsing } from './commands/rehearsal.ts';
import { currentRoom } from './commands/room.ts';
import { putRoom } from './commands/rooms.ts';
import { workedOut } from './inSlices.ts';
import { canShowSoFar, scoreSoFar, shownSoFar } from './commands/whilePlaying.ts';
import type { DeskState } from './state.ts';

/** So many strikes are written out at once without the page standing still. */
const AT_ONCE = 300;

const isLong = (piece: Piece): boolean => piece.take.strikes.length > AT_ONCE;

/** What views read: parts of the desk, and what follows from them, each computed once until it changes. */
export const createSeen = (cell: ReadonlySignal<DeskState>) => {
  const part = <T>(of: (desk: DeskState) => T): ReadonlySignal<T> => computed(() => of(cell.value));
  const document = part(desk => desk.document);
  const session = part(desk => desk.session);
  const live = part(desk => desk.live);
  const ofSession = <T>(of: (desk: DeskState['session']) => T): ReadonlySignal<T> =>
    computed(() => of(session.value));
  const ofLive = <T>(of: (desk: DeskState['live']) => T): ReadonlySignal<T> => computed(() => of(live.value));

  const history = computed(() => document.value.history);
  const piece = computed(() => history.value?.present.piece);
  const trial = ofLive(l => l.trial);
  const reading = computed(() => (piece.value === undefined ? undefined : corrected(piece.value)));
  const writtenOut = workedOut(() => piece.value, readingScoreInSlices, isLong);
  const writePage = computed(() => {
    const page = writtenOut.value;
    if (page === undefined || page.from.id !== piece.value?.id) return undefined;
    const now = page.from === piece.value ? reading.value : undefined;
    return { piece: page.from, reading: now ?? corrected(page.from), score: page.result };
  });
  const writeScore = computed(() => {
    const page = writePage.value;
    if (piece.value === undefined || page?.piece === piece.value) return page?.score;
    return readingScore(piece.value);
  });
  const motif = computed(() => (piece.value === undefined ? undefined : motifOf(piece.value)));
  const plan = computed(() => (piece.value === undefined ? undefined : planOf(piece.value)));
  const shownPlan = computed(() =>
    plan.value === undefined ? undefined : (trial.value?.plan ?? plan.value),
  );
  const growScore = computed(() =>
    piece.value === undefined || shownPlan.value === undefined
      ? undefined
      : pieceScore(piece.value, shownPlan.value),
  );
  const entries = ofLive(l => l.library.entries);
  const allClasses = ofLive(l => l.library.classes);
  const classes = computed(() => allClasses.value.filter(entry => !entry.away).map(entry => entry.list));
  const outbox = computed(() => document.value.outbox);
  const room = part(currentRoom);
  const ownRooms = ofSession(s => s.rooms);
  const screenPage = ofSession(s => s.screenPage);
  const memory = ofLive(l => l.memory);
  const selectedNotes = ofSession(s => s.selectedNotes);
  const playSettings = ofSession(s => s.play);
  const writtenSoFar = ofLive(l => l.soFar);
  const soFar = computed(() => shownSoFar(writtenSoFar.value, memory.value, session.value));
  const soFarKey = part(desk => classKeyOf(desk, desk.session.pupil?.className ?? ''));
  return {
    document,
    session,
    history,
    piece,
    /** What speaks for a key of the piece besides its notes. */
    keyEvidence: part(desk => {
      const open = desk.document.history?.present.piece;
      return open === undefined ? {} : keyEvidence(desk, open.className, open.instrument);
    }),
    /** The chosen reading with its corrections. */
    reading,
    /** The score of the page of Write, worked out now if it must be. */
    writeScore,
    /** What the page of Write shows: of a long piece, until it is written out, its page before or nothing. */
    writePage,
    motif,
    plan,
    /** The plan on the page of Grow: what is being tried, or the piece's own. */
    shownPlan,
    growScore,
    room,
    /** The machine's rooms, the one stood in as it now is. */
    rooms: computed(() => putRoom(ownRooms.value, room.value)),
    /** What it takes to play what is on the page of Grow in this room. */
    playable: computed(() => {
      const score = growScore.value;
      if (motif.value === undefined || shownPlan.value === undefined || score === undefined) return undefined;
      return checkPlayable(motif.value, shownPlan.value, room.value, at =>
        secondsAtOnset(score, add(at, score.upbeat)),
      );
    }),
    /** Who comes after whoever plays now; undefined where there is no class list. */
    nextPupil: part(nextOf),
    /** The class whose pupils play; undefined where none is chosen and there are several. */
    classNow: part(classNow),
    classes,
    /** Every line of the register as things now are. */
    rows: computed(() =>
      registerRows({
        entries: entries.value,
        classes: classes.value,
        open:
          piece.value === undefined
            ? undefined
            : { piece: piece.value, isSaved: isInRegister(document.value) },
        waiting: outbox.value,
      }),
    ),
    looking: ofLive(l => l.looking),
    alike: ofLive(l => l.alike),
    outbox,
    className: ofSession(s => s.className),
    isKept: computed(() => piece.value !== undefined && document.value.kept === piece.value),

    view: ofSession(s => s.view),
    isPupilView: ofSession(s => s.isPupilView),
    pupil: ofSession(s => s.pupil),
    playSettings,
    nameStyle: ofSession(s => s.nameStyle),
    pupilLanguage: ofSession(s => s.pupilLanguage),
    keyShortcuts: ofSession(s => s.keyShortcuts),
    phrasesToCatch: ofSession(s => s.phrasesToCatch),
    selectedNotes,
    selectedStatement: ofSession(s => s.selectedStatement),
    selectedPlanNote: ofSession(s => s.selectedPlanNote),
    mutedParts: ofSession(s => s.mutedParts),
    aloneParts: ofSession(s => s.aloneParts),
    stickingShown: ofSession(s => s.stickingShown),
    hearSettings: ofSession(s => s.hear),
    screenPage,
    /** The rows of Write: the counts stand under its staves anyway. */
    rowsOfWrite: computed(() => screenPage.value.under.filter(row => row !== 'counts')),
    paper: ofSession(s => s.paper),
    repeatBars: ofSession(s => s.repeatBars),
    asked: ofSession(s => s.asked),
    volume: ofSession(s => s.volume),
    motor: ofSession(s => s.motor),
    lateness: ofSession(s => s.lateness),

    memory,
    /** Whether anything that was struck is remembered. */
    isStruck: computed(() => memory.value.strikes.length > 0),
    chosen: ofLive(l => l.chosen),
    /** Whether anything of the last phrase can be shown while it is played. */
    isWritingAlong: computed(() => soFar.value !== undefined && canShowSoFar(soFar.value)),
    /** What `pageSoFar` follows from: new with every answer, and as good as free to ask for. */
    askedSoFar: computed(() => [soFar.value, soFarKey.value, playSettings.value.instrument]),
    /** What is written of the last phrase while it is played; undefined while nothing can be shown. */
    pageSoFar: computed(() =>
      soFar.value === undefined
        ? undefined
        : scoreSoFar(soFar.value, soFarKey.value ?? key('C'), playSettings.value.instrument),
    ),
    devices: ofLive(l => l.devices),
    midiHint: ofLive(l => l.midiHint),
    roomEar: ofLive(l => l.roomEar),
    learning: ofLive(l => l.learning),
    beat: ofLive(l => l.beat),
    clickRunning: ofLive(l => l.clickRunning),
    hearing: ofLive(l => l.hearing),
    cursor: ofLive(l => l.cursor),
    isLed: ofLive(l => l.isLed),
    isRehearsing: part(isRehearsing),
    rehearsal: ofSession(s => s.rehearsal),
    sends: ofSession(s => s.sends),
    outputs: ofLive(l => l.outputs),
    sentTo: ofLive(l => l.sentTo),
    isPlayingKept: ofLive(l => l.rehearsed?.isKept === true),
    /** What was played along, while the page is still the one it was played from. */
    rehearsed: computed(() => {
      const last = live.value.rehearsed;
      return last?.score === growScore.value ? last?.playing : undefined;
    }),
    trial,
    conflict: ofLive(l => l.conflict),
    refused: ofLive(l => l.refused),
    /** Whether other notes followed the last correction, and nothing was done since. */
    canLimit: part(canLimit),
    /** Whether *First beat here* would give the click its first barline back. */
    givesClickBack: computed(() => givesClickBack(piece.value, selectedNotes.value)),
    /** Notes of figures like the one last corrected that stand otherwise. */
    likeElsewhere: part(likeElsewhere),
    followed: ofLive(l => l.followed),
    rippled: ofLive(l => l.rippled),
    taps: ofLive(l => l.taps),
    /** Bars struck so far as the pitches of the page's notes; undefined while that is not asked for. */
    pitching: part(pitchingNow),
    canHearAgain: part(canHearAgain),
    canKeepSound: part(canKeepSound),
    measuring: ofLive(l => l.measuring),
    measured: ofLive(l => l.measured),
    window: ofLive(l => l.window),
    problem: ofLive(l => l.problem),
    notice: ofLive(l => l.notice),
    readings: ofLive(l => l.readings),
    readerBusy: ofLive(l => l.readerBusy),
    work: ofLive(l => l.work),
    library: ofLive(l => l.library),
    safe: ofLive(l => l.safe),
  };
};

export type Seen = ReturnType<typeof createSeen>;
