import { listenInWorker, simulateInWorker, slowInWorker } from "../audio/analysis.ts";
import { decodeRecording } from "../audio/decode.ts";
import { createDelayMeasuring } from "../audio/delay-measuring.ts";
import { createMarking } from "../audio/marking.ts";
import { openMicrophone } from "../audio/microphone.ts";
import { OpenMicrophones } from "../audio/open-microphones.ts";
import { createPlayback } from "../audio/playback.ts";
import { createReedSound, type ReedSound } from "../audio/reed-sound.ts";
import { createReference } from "../audio/reference.ts";
import { canSendTo, sendTo } from "../audio/sound-context.ts";
import { SoundDevices } from "../audio/sound-devices.ts";
import type { PracticeServices } from "../practice/practice-services.ts";
import type { SoundCheckServices } from "../sound-check/sound-check-session.ts";
import type { ReedpathDatabase } from "../store/database.ts";
import { DexieHarpStore } from "../store/dexie-harp-store.ts";
import { DexieHistoryArchive } from "../store/dexie-history-archive.ts";
import { DexieHistoryStore } from "../store/dexie-history-store.ts";
import { DexieHistoryUpkeep } from "../store/dexie-history-upkeep.ts";
import { DexieMeasurementStore } from "../store/dexie-measurement-store.ts";
import { DexieProgressStore } from "../store/dexie-progress-store.ts";
import { DexieRunningTakes } from "../store/dexie-running-takes.ts";
import { DexieSetListStore } from "../store/dexie-set-list-store.ts";
import { DexieTuneStore } from "../store/dexie-tune-store.ts";
import type { HarpStore } from "../store/harp-store.ts";
import { type OnHistoryChange, onHistoryChange } from "../store/history-changes.ts";
import type { HistoryArchive, HistoryUpkeep } from "../store/history-store.ts";
import { HistoryWitness } from "../store/history-witness.ts";
import { presentZone } from "../store/present-zone.ts";
import type { ProgressStore } from "../store/progress-store.ts";
import type { RunningTakes } from "../store/running-take.ts";
import type { SetListStore } from "../store/set-list-store.ts";
import { DexieSettingsStore, type SettingsStore } from "../store/settings-store.ts";
import { browserLocks } from "../store/take-locks.ts";
import { packTakeInWorker } from "../store/take-packing-work.ts";
import type { TuneStore } from "../store/tune-store.ts";
import { createTuneWork, type TuneWork } from "../tunes/tune-work.ts";
import { type DesignWork, designInWorker } from "../workshop/design/design-work.ts";
import type { MeasureServices } from "../workshop/measure/measure-services.ts";
import { measureWork } from "../workshop/measure/measure-work.ts";
import { type Archiving, createArchiving } from "./archiving.ts";
import { aroundMicrophone } from "./around-microphone.ts";
import { type BroughtBack, openedAgain } from "./bringing-back.tsx";
import { type MakeDemoDays, makeDemoDays } from "./demo-work.ts";
import { browserPersistence, type PersistenceAsking } from "./persistence.ts";
import { createProgressWork, type ProgressWork } from "./progress-work.ts";
import { UnkeptAttempts, unkeptName } from "./unkept.ts";
import type { CopyAsking } from "./use-keeping.ts";
import { verifyInWorker } from "./verify-work.ts";

/** Everything the screens need of the world. */
export interface Services extends PracticeServices, SoundCheckServices, MeasureServices {
  readonly settings: SettingsStore;
  /** Those that are open. */
  readonly microphones: OpenMicrophones;
  readonly archive: HistoryArchive;
  readonly archiving: Archiving;
  readonly unkept: UnkeptAttempts;
  readonly witness: HistoryWitness;
  /** Attempts that went with a damaged database before this one was made; 0 for none. */
  readonly lostAttempts: number;
  /** What came out of the second copy instead. */
  readonly returned: BroughtBack;
  readonly secondCopy: CopyAsking;
  readonly runningTakes: RunningTakes;
  readonly upkeep: HistoryUpkeep;
  readonly persistence: PersistenceAsking;
  readonly makeDemoDays: MakeDemoDays;
  readonly onHistoryChange: OnHistoryChange;
  readonly harps: HarpStore;
  readonly tunes: TuneStore;
  readonly setLists: SetListStore;
  readonly tuneWork: TuneWork;
  readonly progress: ProgressStore;
  readonly progressWork: ProgressWork;
  readonly reeds: ReedSound;
  readonly designWork: DesignWork;
  readonly newId: () => string;
}

/**
 * The real world: microphone, loudspeaker, database, clock and chance.
 *
 * @param returned what the second copy gave back to the database
 */
export function realServices(database: ReedpathDatabase, returned: BroughtBack): Services {
  const newId = () => crypto.randomUUID();
  const devices = realDevices();
  const microphones = new OpenMicrophones();
  const around = aroundMicrophone(devices, microphones);
  const history = new DexieHistoryStore(database, newId, packTakeInWorker, onHistoryChange);
  const archiving = createArchiving(database, history, window.reedpath ?? null);
  const unkept = holdUnkept(database, history, newId);
  const witness = new HistoryWitness(storageBeside());
  return {
    devices,
    microphones,
    measuring: createDelayMeasuring(),
    openMicrophone: async () => {
      const opened = await openMicrophone(devices.getState().input.chosen, around);
      // Names of devices can be read from now on.
      void devices.refresh();
      return opened;
    },
    reference: createReference(),
    playback: createPlayback(),
    decodeRecording,
    listenInWorker,
    simulateInWorker,
    slowInWorker,
    marking: createMarking(),
    reeds: createReedSound(),
    history,
    onHistoryChange,
    archive: new DexieHistoryArchive(database),
    archiving,
    unkept,
    witness,
    lostAttempts: witness.opened(database.wasMade && !returned.isAll, returned.attempts + returned.left),
    returned,
    secondCopy: { standing: async () => (await database.secondCopy?.standing()) ?? "none" },
    runningTakes: new DexieRunningTakes(database, browserLocks(navigator.locks), newId),
    upkeep: realUpkeep(database),
    persistence: browserPersistence(navigator.storage, window.reedpath !== undefined),
    makeDemoDays,
    harps: new DexieHarpStore(database),
    tunes: new DexieTuneStore(database),
    setLists: new DexieSetListStore(database),
    measurements: new DexieMeasurementStore(database),
    measureWork,
    tuneWork: createTuneWork(),
    progress: new DexieProgressStore(database),
    progressWork: createProgressWork(onHistoryChange),
    designWork: designInWorker,
    newId,
    settings: new DexieSettingsStore(database),
    nowEpochMs: () => Date.now(),
    zone: presentZone,
    newSeed: () => crypto.getRandomValues(new Uint32Array(1))[0] ?? 1,
  };
}

/** Some browsers are set to keep nothing, and throw where it is asked for. */
function storageBeside(): Storage | null {
  try {
    return window.localStorage;
  } catch {
    return null;
  }
}

/** @param history its `save` hands what it cannot keep over from now on */
function holdUnkept(
  database: ReedpathDatabase,
  history: DexieHistoryStore,
  newId: () => string,
): UnkeptAttempts {
  const unkept = new UnkeptAttempts({
    save: history.save.bind(history),
    newId,
    packTake: packTakeInWorker,
    reopen: () => openedAgain(database),
    fileName: () => unkeptName(Date.now(), presentZone()),
  });
  history.save = unkept.save;
  return unkept;
}

/** The long recount goes off the window's thread. */
function realUpkeep(database: ReedpathDatabase): HistoryUpkeep {
  const upkeep = new DexieHistoryUpkeep(database, packTakeInWorker);
  upkeep.verify = verifyInWorker;
  return upkeep;
}

/** What the browser lists, where it lists devices at all. */
function realDevices(): SoundDevices {
  const { mediaDevices } = navigator;
  return new SoundDevices({
    list: async () => (mediaDevices === undefined ? [] : mediaDevices.enumerateDevices()),
    onChange: (listener) => mediaDevices?.addEventListener("devicechange", listener),
    sendTo: canSendTo() ? sendTo : null,
  });
}
