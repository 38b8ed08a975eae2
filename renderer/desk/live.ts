import type { LikeBy } from '../../core/library/likeness.ts';
import type { Outline } from '../../core/library/outline.ts';
import type { Seconds } from '../../core/foundation/units.ts';
import type { Problem } from '../../core/foundation/result.ts';
import type { ClassEntry, RegisterEntry } from '../../core/library/library.ts';
import type { Growth } from '../../core/growing/growth.ts';
import type { Plan } from '../../core/plan/plan.ts';
import type { Piece } from '../../core/piece/piece.ts';
import type { Pin } from '../../core/piece/rereading.ts';
import type { Reading } from '../../core/reading/model/reading.ts';
import type { WrittenSoFar } from '../../core/reading/whilePlaying/soFar.ts';
import type { SoundState } from '../../core/hearing/soundWatch.ts';
import type { WhatWasPlayed } from '../../core/rehearse/result.ts';
import type { HeardKind } from '../hearing/earWorker.ts';
import type { MicrophoneChoice } from '../hearing/microphone.ts';
import type { MidiPort } from '../input/midiOut.ts';
import type { Score } from '../../core/score/score.ts';
import type { Lateness } from '../../core/take/latency.ts';
import { EMPTY_MEMORY, type Memory } from '../../core/take/memory.ts';
import type { Take } from '../../core/take/take.ts';

/** A development being tried on the page before it is kept. */
export interface Trial {
  readonly name: string;
  readonly plan: Plan;
  readonly statement: string;
}

/** What is being heard, for buttons and the moving cursor. */
export interface Hearing {
  /** Which line of the register, or which version, where there are several. */
  readonly of?: string;
  /** Where the music begins after its count-in, in semibreves from the first barline; absent where none is counted. */
  readonly startsAt?: number;
  readonly what:
    | 'take'
    | 'page'
    | 'both'
    | 'reading'
    | 'piece'
    | 'preview'
    | 'statement'
    | 'concept'
    | 'phrase'
    | 'rehearsal'
    | 'playing';
}

/** The last correction, while it can still be limited to the notes meant, or carried everywhere like it. */
export interface LastPinned {
  readonly name: string;
  readonly before: Piece;
  readonly after: Piece;
  /** The notes meant, and where they were put. */
  readonly pins: readonly Pin[];
  /** The same for the same figure elsewhere, where it does not stand so yet. */
  readonly like: readonly Pin[];
}

/** A stretch of the last minutes, on the clock of all input. */
export interface Chosen {
  readonly from: Seconds;
  readonly to: Seconds;
}

/** What came of playing along, and the page it was played from. */
export interface PlayedFrom {
  readonly score: Score;
  readonly playing: WhatWasPlayed;
  /** It was kept beside the piece. */
  readonly isKept?: true;
}

/** A device being lined up with the click. */
export interface Measuring {
  /** Strikes so far, of every device. */
  readonly strikes: number;
  /** Seconds left. */
  readonly left: number;
}

/** Which take a sound is of. */
export interface SoundOfTake {
  readonly take: Take['id'];
  /** It was heard in the room, and is in the memory of this window alone. */
  readonly isOnlyHere: boolean;
}

/** How the room is listened to. */
export interface RoomListening {
  readonly hears: HeardKind;
  /** How the app itself is heard: a microphone hears a loudspeaker, too. */
  readonly through: 'loudspeaker' | 'headphones';
}

/** The microphone that hears the room. */
export interface RoomEar extends RoomListening {
  /** As a person knows it; undefined while the browser is asked. */
  readonly name: string | undefined;
  /** The microphones of this machine, by the browser's ids; empty while the browser is asked. */
  readonly microphones: readonly MicrophoneChoice[];
  /** The id of the one that is wished for; empty where the system may choose. */
  readonly microphone: string;
  /** How what comes in sounds; undefined before anything did. */
  readonly sound: SoundState | undefined;
}

/** The class library in use, as the register shows it. */
export interface LibraryState {
  readonly state: 'closed' | 'opening' | 'open' | 'failed';
  /** Where it is, in words. */
  readonly where: string | undefined;
  /** Whether the browser may clear it by itself. */
  readonly mayBeCleared: boolean;
  /** A folder of an earlier session that the browser lends only when asked again. */
  readonly waitingFolder: string | undefined;
  readonly entries: readonly RegisterEntry[];
  readonly classes: readonly ClassEntry[];
  readonly damaged: readonly Problem[];
}

/** A tune that others in the register are asked to be like. */
export interface AskedTune {
  /** Whose or which it is, in words. */
  readonly of: string;
  readonly outline: Outline;
  readonly by: LikeBy;
}

/** What sounds, what is struck, what is being asked: gone with the window. */
export interface LiveState {
  /** All that was struck in the last five minutes. */
  readonly memory: Memory;
  /** First and last strike of the phrases chosen to be caught; undefined for the last ones. */
  readonly chosen: Chosen | undefined;
  /** The phrase under way as far as it is written; undefined before anything was. */
  readonly soFar: WrittenSoFar | undefined;
  /** Names of what is plugged in. */
  readonly devices: readonly string[];
  /** Why there may be nothing to hear from MIDI, when nothing is plugged in. */
  readonly midiHint: Problem | undefined;
  /** What a piece may be sent to. */
  readonly outputs: readonly MidiPort[];
  /** What it is sent to while it is heard; undefined before one was chosen. */
  readonly sentTo: MidiPort | undefined;
  /** Undefined while the room is not listened to; never begins by itself. */
  readonly roomEar: RoomEar | undefined;
  /** Where the click is: the beat counted from 0 (counting in below), and its number in the bar from 0. */
  readonly beat: { readonly beat: number; readonly inBar: number } | undefined;
  /** The take whose sound can be heard again; undefined where none is at hand. */
  readonly soundOf: SoundOfTake | undefined;
  readonly clickRunning: boolean;
  readonly hearing: Hearing | undefined;
  /** Where the performance is, in semibreves from the first barline of the page. */
  readonly cursor: number | undefined;
  /** Whether the first steps are shown. */
  readonly isLed: boolean;
  readonly rehearsed: PlayedFrom | undefined;
  readonly trial: Trial | undefined;
  /** A step that found its position occupied: it can be tried again with a choice. */
  readonly conflict: { readonly name: string; readonly step: Growth } | undefined;
  /** Why what was asked for last is not tried; until it is left, or something else is asked for. */
  readonly refused: Problem | undefined;
  /** Notes that went elsewhere with the last correction, shown until the next thing is done. */
  readonly followed: readonly number[];
  /** Statements that followed the last change of the motif, shown until the plan is changed. */
  readonly rippled: readonly string[];
  readonly lastPinned: LastPinned | undefined;
  /** Taps so far, on the take's clock, while the take replays; undefined when nobody is tapping. */
  readonly taps: readonly number[] | undefined;
  readonly measuring: Measuring | undefined;
  readonly measured: { readonly device: string; readonly found: Lateness } | undefined;
  /** Pitches of the bars struck so far while each is struck once; undefined while that is not asked for. */
  readonly learning: readonly number[] | undefined;
  /** The window that is open over the view. */
  readonly window:
    | 'keys'
    | 'about'
    | 'calibration'
    | 'learning'
    | 'classes'
    | 'versions'
    | 'projector'
    | 'assessment'
    | 'sending'
    | undefined;
  /** Whose versions are looked at, by item. */
  readonly looking: string | undefined;
  /** The register shows only what is like it; undefined where it shows what is asked for otherwise. */
  readonly alike: AskedTune | undefined;
  readonly problem: Problem | undefined;
  /** A quiet line: what was just done. */
  readonly notice: string;
  /** Up to five readings of the take on the desk, best first. */
  readonly readings: readonly Reading[];
  /** Whether the reader has been at work for long enough to say so. */
  readonly readerBusy: boolean;
  /** Long work under way, how far it is, and whether Keep or the foot can stop it. */
  readonly work: { readonly text: string; readonly isPaper?: true; readonly isFile?: true } | undefined;
  readonly library: LibraryState;
  /** Whether everything done here is on disk by itself; undefined before anything was. */
  readonly safe: 'safe' | 'soon' | 'unsafe' | undefined;
}

/** No development is tried, nor was one refused. */
export const NOTHING_TRIED = { trial: undefined, conflict: undefined, refused: undefined } as const;

export const EMPTY_LIVE: LiveState = {
  memory: EMPTY_MEMORY,
  chosen: undefined,
  soFar: undefined,
  devices: [],
  midiHint: undefined,
  outputs: [],
  sentTo: undefined,
  roomEar: undefined,
  soundOf: undefined,
  beat: undefined,
  clickRunning: false,
  hearing: undefined,
  cursor: undefined,
  isLed: false,
  rehearsed: undefined,
  ...NOTHING_TRIED,
  followed: [],
  rippled: [],
  lastPinned: undefined,
  taps: undefined,
  measuring: undefined,
  measured: undefined,
  learning: undefined,
  window: undefined,
  looking: undefined,
  alike: undefined,
  problem: undefined,
  notice: '',
  readings: [],
  readerBusy: false,
  work: undefined,
  library: {
    state: 'closed',
    where: undefined,
    mayBeCleared: false,
    waitingFolder: undefined,
    entries: [],
    classes: [],
    damaged: [],
  },
  safe: undefined,
};
