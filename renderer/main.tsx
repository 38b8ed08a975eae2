import './styles/main.css';
import { render } from 'preact';
import { openLibrary } from '../core/library/openLibrary.ts';
import { App } from './app.tsx';
import { createCalibration } from './desk/acts/calibration.ts';
import { createCarrying } from './desk/acts/carrying.ts';
import { createEvidence } from './desk/acts/evidence.ts';
import { createClassPaper } from './desk/acts/classPaper.ts';
import { keepFocus } from './desk/acts/keepFocus.ts';
import { createKeeper } from './desk/acts/keeper.ts';
import { followSettings } from './desk/acts/following.ts';
import { followHost } from './desk/acts/hostMenu.ts';
import { watchKeys } from './desk/acts/keys.ts';
import { watchLeaving } from './desk/acts/leaving.ts';
import { createListening } from './desk/acts/listening.ts';
import { hearFile, hearSoundAgain } from './hearing/hearing.ts';
import { openMicrophone } from './hearing/microphone.ts';
import { otherWindows } from './hearing/otherWindows.ts';
import { createFileWork } from './desk/acts/fileWork.ts';
import { download } from './desk/acts/handOn.ts';
import { createHearingAgain } from './desk/acts/hearingAgain.ts';
import { createOpening } from './desk/acts/opening.ts';
import { watchPlaces } from './desk/acts/places.ts';
import { createRehearsing } from './desk/acts/rehearsing.ts';
import { createRoomBars } from './desk/acts/roomBars.ts';
import { createSending } from './desk/acts/sending.ts';
import { createSafekeeping } from './desk/acts/safekeeping.ts';
import { watchOutbox } from './desk/acts/shelving.ts';
import { createStriking, inputNow } from './desk/acts/striking.ts';
import { createWritingAlong } from './desk/acts/writingAlong.ts';
import { watchTitle } from './desk/acts/windowTitle.ts';
import { createTapping } from './desk/acts/tapping.ts';
import { AppContext } from './desk/appContext.ts';
import type { AppParts } from './desk/appParts.ts';
import { createAsking } from './desk/asking.ts';
import { complain, tell } from './desk/commands/messages.ts';
import { addPitch } from './desk/commands/pitching.ts';
import { setDevices } from './desk/commands/playing.ts';
import { setBusy } from './desk/commands/reading.ts';
import { setOutputs, setSentTo } from './desk/commands/sending.ts';
import { lead, showPupilView } from './desk/commands/settings.ts';
import { createDesk } from './desk/desk.ts';
import { newId } from './desk/newId.ts';
import { createReaderQueue } from './desk/readerQueue.ts';
import { createSaveQueue } from './desk/saveQueue.ts';
import { FIRST_SESSION } from './desk/session.ts';
import { FIRST_DESK, withSession } from './desk/state.ts';
import { createKeyBars } from './input/keyBars.ts';
import { createMidiInput } from './input/midiInput.ts';
import { createMidiOut } from './input/midiOut.ts';
import { openMidiFile } from './reading/midiFile.ts';
import { createReader } from './reading/reader.ts';
import { createClocks } from './sound/clocks.ts';
import { createSound } from './sound/sound.ts';
import { browserRecords } from './storage/deskRecords.ts';
import { browserSketches } from './storage/sketchRecords.ts';
import { hostOf } from './storage/hostFolder.ts';
import { storedLateness } from './storage/lateness.ts';
import { libraryFinder } from './storage/libraryFinder.ts';
import { libraryTools } from './storage/libraryTools.ts';
import { portableFiles } from './storage/portableFiles.ts';
import { storedMicrophone, storeMicrophone } from './storage/microphoneChoice.ts';
import { storedPupilLanguage } from './storage/pupilLanguage.ts';
import { storedRooms } from './storage/rooms.ts';
import { firstStepsAreOver } from './storage/firstSteps.ts';
import { storedStartView } from './storage/startView.ts';
import { keepOwnFiles } from './storage/withoutServer.ts';
import { HIGHEST, LOWEST } from './views/play/bars.tsx';

/** Longest time one reading, and one save, may take, in ms; work is shown after the third. */
const READING_LIMIT = 20_000;
const SAVING_LIMIT = 20_000;
const SHOWN_AFTER = 300;

// The composition root: everything with a side effect is made here, once, and handed down.
const desk = createDesk(
  withSession(FIRST_DESK, {
    rooms: storedRooms() ?? FIRST_SESSION.rooms,
    lateness: storedLateness(),
    pupilLanguage: storedPupilLanguage(),
  }),
);
const say = (problem: Parameters<typeof complain>[1]): void => {
  desk.run(complain, problem);
};
const reader = createReader();
const asking = createAsking(
  desk,
  createReaderQueue({
    reader,
    limit: READING_LIMIT,
    shownAfter: SHOWN_AFTER,
    onBusy: busy => {
      desk.run(setBusy, busy);
    },
    onProblem: say,
  }),
);
const sketches = browserSketches();
const keeper = createKeeper(
  desk,
  createSaveQueue({ limit: SAVING_LIMIT, onProblem: say }),
  libraryFinder,
  folder => openLibrary(folder, libraryTools(newId), sketches),
);
const safekeeping = createSafekeeping(desk, browserRecords(newId), performance.timeOrigin);
const sound = createSound();
const listening = createListening(sound, desk, () => sending);
const tapping = createTapping(desk, asking, listening);
const calibration = createCalibration(sound, desk);
const striking = createStriking(
  sound,
  desk,
  asking,
  struck => {
    calibration.strike(struck);
    tapping.tap(inputNow() - struck.at);
    roomBars.sounded(struck);
    rehearsing.strike(struck);
    desk.run(addPitch, struck.pitch);
    writingAlong.struck();
  },
  () => roomBars.remembered(),
  (take, zero) => {
    void hearingAgain.caught(take, zero);
  },
);
const writingAlong = createWritingAlong(desk, {
  writeOn: reader.writeOn,
  click: striking.click,
  now: inputNow,
});
const rehearsing = createRehearsing(desk, listening, inputNow, () => roomBars.remembered());
const roomBars = createRoomBars(desk, striking, {
  open: (tells, wish) => openMicrophone(tells, createClocks, wish),
  microphone: { stored: storedMicrophone, store: storeMicrophone },
  ...otherWindows(),
});
const fileWork = createFileWork(desk);
const hearingAgain = createHearingAgain(desk, asking, fileWork, {
  hearAgain: hearSoundAgain,
  soundOfRoom: roomBars.soundBetween,
  save: (name, bytes) => {
    download(desk, name, bytes.slice().buffer, 'audio/wav');
  },
});
/** Whether MIDI was asked for by hand; what is missing at the start is said in Play, where it is in nobody's way. */
let isMidiAsked = false;
const midi = createMidiInput({
  onStrike: struck => {
    if (!sending.isEcho(struck)) striking.strike(struck);
  },
  onPlugged: () => {
    midiOut.lookAgain();
  },
  onRelease: striking.release,
  onGone: device => {
    striking.gone(device.id);
    desk.run(tell, `${device.name} was unplugged. What it played is still here.`);
  },
  onDevices: (all, hint) => {
    desk.run(
      setDevices,
      all.map(device => device.name),
      hint,
    );
  },
  onProblem: problem => {
    desk.run(setDevices, [], problem);
    if (isMidiAsked) say(problem);
  },
});
const midiOut = createMidiOut({
  onPorts: ports => {
    desk.run(setOutputs, ports);
  },
  onGone: port => {
    listening.stop();
    desk.run(setSentTo, undefined);
    desk.run(tell, `${port.name} was unplugged. From now on everything sounds here.`);
  },
});
const sending = createSending(desk, midiOut, inputNow, listening.stop);
// What is sent elsewhere would sound on there for good.
window.addEventListener('pagehide', listening.stop);
const app: AppParts = {
  desk,
  asking,
  striking,
  listening,
  rehearsing,
  roomBars,
  tapping,
  calibration,
  keeper,
  classPaper: createClassPaper(desk, keeper),
  carrying: createCarrying(desk, keeper, portableFiles),
  evidence: createEvidence(desk, sound),
  opening: createOpening(desk, asking, { hear: hearFile, midi: openMidiFile }, fileWork, hearingAgain),
  hearingAgain,
  sending,
  sound,
  lookForMidi: () => {
    isMidiAsked = true;
    void midi.start();
  },
};

/** Sound may start only in a gesture; why it did not is said once. */
let isToldSilent = false;
const wake = (): void => {
  void sound.start().then(started => {
    if (started.ok || isToldSilent) return;
    isToldSilent = true;
    say(started.problem);
  });
};
for (const gesture of ['pointerdown', 'keydown'] as const) {
  window.addEventListener(gesture, wake, { once: true, capture: true });
}

const keyBars = createKeyBars(window, {
  onStrike: striking.strike,
  onRelease: striking.release,
  lowest: LOWEST,
  isSetOut: pitch => !desk.playSettings.peek().lifted.includes(pitch % 12),
});
followSettings(desk, { sound, midi, keyBars, bars: { low: LOWEST, high: HIGHEST } });

// What was left here comes back before anything is shown, so that nothing jumps.
await safekeeping.takeUp();
if (storedStartView() === 'pupil') desk.run(showPupilView, true);
desk.run(lead, !firstStepsAreOver());
safekeeping.begin();
void midi.start();
const root = document.getElementById('app');
if (root !== null)
  render(
    <AppContext.Provider value={app}>
      <App />
    </AppContext.Provider>,
    root,
  );
watchKeys(app);
keepFocus();
watchLeaving(desk, listening, tapping);
watchOutbox(desk, keeper);
watchPlaces(desk, window);
watchTitle(desk, document);
void keeper.openAtStart();
const host = hostOf();
if (host !== undefined) followHost(app, host);
void keepOwnFiles({
  onKept: () => {
    desk.run(tell, 'From now on Malletloom opens in this browser without a network, too.');
  },
  onNewer: () => {
    desk.run(tell, 'A newer Malletloom is here. It opens when every window of this one is closed.');
  },
});
