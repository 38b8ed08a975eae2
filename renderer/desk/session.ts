import type { AskedLength } from '../../core/evidence/lengthWords.ts';
import { type Metre, metre } from '../../core/foundation/metre.ts';
import type { NameStyle } from '../../core/foundation/noteValue.ts';
import type { InstrumentId } from '../../core/instruments/instruments.ts';
import type { MalletId } from '../../core/instruments/mallets.ts';
import type { OwnPart } from '../../core/rehearse/accompanied.ts';
import type { RehearsedBars } from '../../core/rehearse/section.ts';
import type { Pupil } from '../../core/piece/pupil.ts';
import { newMusicRoom } from '../../core/playable/musicRoom.ts';
import type { StaveHeight } from '../page/options.ts';
import type { Under } from '../page/under.ts';
import type { PrintOptions } from '../pdf/paper.ts';
import type { Rooms } from '../storage/rooms.ts';

/** The four places of the journey, as the window shows them. */
export type View = 'play' | 'write' | 'grow' | 'keep';

export interface PlaySettings {
  readonly instrument: InstrumentId;
  /** What instruments are struck with, where it is not the usual mallet. */
  readonly mallets: Readonly<Partial<Record<InstrumentId, MalletId>>>;
  readonly clickOn: boolean;
  readonly metre: Metre;
  /** Whether what is played without a click is in that metre, or in whatever one is found. */
  readonly metreKnown: boolean;
  readonly bpm: number;
  readonly countInBars: number;
  /** Pitch classes of tone bars lifted off. */
  readonly lifted: readonly number[];
  /** Seconds of silence that end a phrase. */
  readonly silence: number;
  readonly keysPlay: boolean;
  /** Whether each bar shows the key that strikes it. */
  readonly keysShown: boolean;
  readonly drumsAsPitched: boolean;
  /** Whether the page writes itself while somebody plays. */
  readonly writesAlong: boolean;
}

/** How Write compares by ear. */
export interface HearSettings {
  readonly what: 'page' | 'take' | 'both';
  /** Per cent. */
  readonly speed: number;
  /** One bar over and over, by its number; undefined for all of it. */
  readonly bar: number | undefined;
  readonly click: boolean;
}

/** How a part is rehearsed. */
export interface RehearsalSettings {
  /** The part of whoever has none of their own; undefined for the first. */
  readonly part: string | undefined;
  /** The part each device plays, by the device's name. */
  readonly players: Readonly<Record<string, string>>;
  readonly own: OwnPart;
  /** Per cent, 40 to 120. */
  readonly speed: number;
  /** Undefined for the whole piece. */
  readonly bars: RehearsedBars | undefined;
  readonly loop: boolean;
  /** Whether the click goes on after the count. */
  readonly click: boolean;
  /** Whether bars to strike stand under the page. */
  readonly screenBars: boolean;
}

/** How a piece is sent to another instrument. */
export interface SendSettings {
  /** Whether each part has a channel of its own, from `channel` on; else all are on `channel`. */
  readonly isOwn: boolean;
  /** From 0 to 15. */
  readonly channel: number;
  /** Whether its sounds and volumes are set by General MIDI; else it stays as it is. */
  readonly setsSounds: boolean;
  /** Whether what is sent sounds here, too. */
  readonly soundsHere: boolean;
  readonly clock: boolean;
}

/** One note of a statement, chosen to be changed by hand. */
export interface PlanNote {
  /** Which time through, from 0; absent for the first. */
  readonly time?: number;
  readonly statement: string;
  readonly index: number;
}

/** Most bars that are struck for one rhythm: as many as a file of a take may have strikes. */
export const MOST_PITCHES = 20_000;

/** Bars that are struck, in order, as the pitches of a rhythm. */
export interface Pitching {
  /** The piece whose rhythm it is, by id. */
  readonly piece: string;
  /** Written MIDI pitches. */
  readonly struck: readonly number[];
  /** Whether bars struck now count, or what was struck waits. */
  readonly isOpen: boolean;
}

/** A turn at the instrument. */
export interface Turn {
  readonly pupil: Pupil | undefined;
  /** The last strike before it, in seconds on the clock of all input; undefined for the first turn. */
  readonly after: number | undefined;
}

/** What a teacher asks of a piece that is handed in: her own words, for the app knows no board's rules. */
export interface AskedOfPieces {
  /** Questions for the pupil's review. */
  readonly questions: readonly string[];
  readonly criteria: readonly string[];
  /** How long a piece should be; undefined where that is not asked. */
  readonly length: AskedLength | undefined;
}

/** Languages of the pupil view, by their codes (BCP 47). */
export type PupilLanguage = 'en' | 'de';

/** Whose piece, which view, what is chosen, and the settings of this machine. */
export interface SessionState {
  readonly view: View;
  /** Whether the window shows only what a pupil needs. */
  readonly isPupilView: boolean;
  /** Whether parts are rehearsed in Grow, in place of the cards. */
  readonly isRehearsing: boolean;
  /** Who plays now, and whose the next catch is; undefined before anyone was chosen. */
  readonly pupil: Pupil | undefined;
  /** Who played when, the turn under way last: what was struck is whose turn it was. */
  readonly turns: readonly Turn[];
  /** The class whose register and pupils are shown; empty for every class. */
  readonly className: string;
  readonly play: PlaySettings;
  readonly nameStyle: NameStyle;
  /** What the pupil view speaks on this machine. */
  readonly pupilLanguage: PupilLanguage;
  /** Whether single letters do something. */
  readonly keyShortcuts: boolean;
  /** How many phrases, counted back from now, are kept by one catch. */
  readonly phrasesToCatch: number;
  /** Notes chosen in Write, by strike. */
  readonly selectedNotes: readonly number[];
  readonly selectedStatement: string | undefined;
  readonly selectedPlanNote: PlanNote | undefined;
  /** The bars struck last for a rhythm without pitches, until they are written in. */
  readonly pitching: Pitching | undefined;
  /** Parts silent while listening, and parts heard alone; by id. */
  readonly mutedParts: readonly string[];
  readonly aloneParts: readonly string[];
  /** Parts whose sticking is shown under their notes, by id. */
  readonly stickingShown: readonly string[];
  readonly hear: HearSettings;
  readonly rehearsal: RehearsalSettings;
  readonly sends: SendSettings;
  /** How pages look on the screen: the height of a stave (undefined: as the window allows), rows under the notes. */
  readonly screenPage: {
    readonly staveHeight: StaveHeight | undefined;
    readonly under: readonly Under[];
  };
  /** How print and PDF look. */
  readonly paper: Required<PrintOptions>;
  /** Whether bars that come again straight away are written once, between repeat bars: on paper and in MusicXML. */
  readonly repeatBars: boolean;
  /** What this teacher asks of a piece that is handed in. */
  readonly asked: AskedOfPieces;
  /** Loudness of everything, in dB. */
  readonly volume: number;
  /** Swells of the vibraphone's motor a second; 0 is off. */
  readonly motor: number;
  /** The rooms this machine knows; the one of what lies on the desk is newest there. */
  readonly rooms: Rooms;
  /** How late each device comes, in ms, by its name. */
  readonly lateness: Readonly<Record<string, number>>;
}

/** The session as it is kept by itself; rooms and lateness belong to the machine and are stored there. */
export type SafeSession = Omit<SessionState, 'rooms' | 'lateness'>;

export const FIRST_ROOM = newMusicRoom('room-1', 'Music room');

export const FIRST_REHEARSAL: RehearsalSettings = {
  part: undefined,
  players: {},
  own: 'left out',
  speed: 80,
  bars: undefined,
  loop: false,
  click: true,
  screenBars: false,
};

export const FIRST_SENDS: SendSettings = {
  isOwn: true,
  channel: 0,
  setsSounds: true,
  soundsHere: true,
  clock: false,
};

export const FIRST_ASKED: AskedOfPieces = {
  questions: [
    'What was your idea, and how did you find it?',
    'What did you do with it, and why?',
    'What would you do differently next time?',
  ],
  criteria: ['The idea', 'What was made of it', 'How it can be played'],
  length: undefined,
};

export const FIRST_SESSION: SessionState = {
  view: 'play',
  isPupilView: false,
  isRehearsing: false,
  pupil: undefined,
  turns: [],
  className: '',
  play: {
    instrument: 'xylophone',
    mallets: {},
    clickOn: false,
    metre: metre(4, 4),
    metreKnown: false,
    bpm: 92,
    countInBars: 1,
    lifted: [],
    silence: 2,
    keysPlay: true,
    keysShown: false,
    drumsAsPitched: false,
    writesAlong: true,
  },
  nameStyle: 'british',
  pupilLanguage: 'en',
  keyShortcuts: true,
  phrasesToCatch: 1,
  selectedNotes: [],
  selectedStatement: undefined,
  selectedPlanNote: undefined,
  pitching: undefined,
  mutedParts: [],
  aloneParts: [],
  stickingShown: [],
  hear: { what: 'page', speed: 100, bar: undefined, click: false },
  rehearsal: FIRST_REHEARSAL,
  sends: FIRST_SENDS,
  screenPage: { staveHeight: undefined, under: [] },
  paper: { staveHeight: 7, under: [] },
  repeatBars: false,
  asked: FIRST_ASKED,
  volume: -12,
  motor: 0,
  rooms: { all: [FIRST_ROOM], current: FIRST_ROOM.id },
  lateness: {},
};
