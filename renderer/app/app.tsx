import { useMemo, useState } from "react";
import type { Exercise } from "../../core/exercise/exercise.ts";
import { harpsToTry } from "../../core/path/harps-to-try.ts";
import type { PlannedSet } from "../../core/progress/repertoire-dance.ts";
import { choiceOfSettings } from "../drills/drill-choice.ts";
import { exerciseOfChoice } from "../drills/exercise-of-choice.ts";
import { abilitiesOf } from "../drills/spec-of-choice.ts";
import { AboutSheet } from "../help/about-sheet.tsx";
import { HelpSheet } from "../help/help-sheet.tsx";
import type { InstrumentView } from "../instrument/instrument-view.ts";
import { viewOfSettings, viewToKeep } from "../instrument/kept-view.ts";
import { PracticeSession } from "../practice/practice-session.ts";
import { RecordingsShelf } from "../practice/recordings-marker.ts";
import type { Settings } from "../store/settings-store.ts";
import { stepNow } from "../today/first-step-states.ts";
import { toGoOnWith } from "../today/go-on.ts";
import { TodayScreen } from "../today/today-screen.tsx";
import { rulesOf } from "../tunes/tune-view.ts";
import { UndoNotice } from "../ui/undo-notice.tsx";
import type { WorkshopPart } from "../workshop/workshop-parts.ts";
import { ArchiveReminder, HistoryTables } from "./archive-parts.tsx";
import { DemoAbove, DemoBelow } from "./demo-days.tsx";
import { Displayed } from "./displayed.tsx";
import { DrillsRoom } from "./drills-room.tsx";
import { FirstRun } from "./first-run.tsx";
import { GivenNotice } from "./given-files.tsx";
import { HearingCaution } from "./hearing-caution.tsx";
import type { HowToPlay } from "./how-to-play.ts";
import { InstrumentRooms } from "./instrument-rooms.tsx";
import { MicrophoneSign } from "./microphone-sign.tsx";
import { phraseBeside } from "./phrase-beside.ts";
import { PlanRunRoom } from "./plan-run-room.tsx";
import { PracticeRoom } from "./practice-room.tsx";
import { FIRST_PROGRESS_VIEW, ProgressRoom } from "./progress-room.tsx";
import { isSheet, isTuneRoom, type RoomName, useRoom } from "./room.ts";
import { RoomKeys } from "./room-keys.tsx";
import { Rooms } from "./rooms.tsx";
import type { Services } from "./services.ts";
import { SettingsRoom } from "./settings-room.tsx";
import { SoundCheckRoom } from "./sound-check-room.tsx";
import { TakesAside } from "./takes-aside.tsx";
import { openTune, TuneRooms } from "./tune-rooms.tsx";
import { useAfterAttempts } from "./use-after-attempts.ts";
import { useDemoDays } from "./use-demo-days.ts";
import { useFirstSound } from "./use-first-sound.ts";
import { useGivenFiles } from "./use-given-files.ts";
import { useHarps } from "./use-harps.ts";
import { useHearing } from "./use-hearing.ts";
import { useHistory } from "./use-history.ts";
import { useKeptSettings } from "./use-kept-settings.ts";
import { useOpening } from "./use-opening.ts";
import { usePlanOfDay } from "./use-plan-of-day.ts";
import { usePreparedProgress } from "./use-prepared-progress.ts";
import { useRepertoire } from "./use-repertoire.ts";
import { useSetRun } from "./use-set-run.ts";
import { useSoundDevices } from "./use-sound-devices.ts";
import { useTuneBackings } from "./use-tune-backings.ts";
import { useTunes } from "./use-tunes.ts";
import { shelfOf, usualHarp } from "./usual-harp.ts";
import { WorkshopRoom } from "./workshop-room.tsx";
import "./app.css";

interface AppProps {
  readonly services: Services;
  readonly firstSettings: Settings;
  /** One sentence if the settings could not be read, or null. */
  readonly trouble: string | null;
  /** What was done before everything was begun anew, as a sentence, or null. */
  readonly told: string | null;
  readonly onBeginAgain: (told: string) => Promise<void>;
}

/** Joins the screens: which one is open, what was chosen, and what is kept. */
export function App({ services: real, firstSettings, trouble, told, onBeginAgain }: AppProps) {
  const [services, hasSounded] = useFirstSound(real);
  const { settings, change, trouble: settingsTrouble } = useKeptSettings(services.settings, firstSettings);
  const history = useHistory(services.history, real.onHistoryChange);
  const demo = useDemoDays(services, history.refresh);
  const backupTrouble = useAfterAttempts(real);
  const [news, setNews] = useState(told);
  const harps = useHarps(services.harps);
  const delayOf = useSoundDevices(services.devices, settings);
  const [view, setView] = useState(() => viewOfSettings(firstSettings.lastInstrument));
  const look = (next: InstrumentView) => {
    setView(next);
    change({ lastInstrument: viewToKeep(next) });
  };
  const [progressView, setProgressView] = useState(FIRST_PROGRESS_VIEW);
  const [workshopPart, setWorkshopPart] = useState<WorkshopPart>("design");
  const [room, enter] = useRoom();
  const [recordings] = useState(() => new RecordingsShelf(services));
  const choice = useMemo(() => choiceOfSettings(settings.lastDrill), [settings.lastDrill]);
  const backsTunes = room.kind === "drills" && choice.kind === "backing";
  const tunes = useTunes(
    services.tunes,
    services.tuneWork,
    isTuneRoom(room) || room.kind === "workshop" || backsTunes,
  );
  const [query, setQuery] = useState("");
  const [helping, setHelping] = useState(false);
  const [isAbout, setAbout] = useState(false);
  const [wantsSteps, setWantsSteps] = useState(false);
  const backings = useTuneBackings(tunes, services.tuneWork);
  const shelf = useMemo(
    () => ({ ...shelfOf(harps.list, harps.layouts), ...(backsTunes ? { backings } : {}) }),
    [harps.list, harps.layouts, backsTunes, backings],
  );
  const recent = useMemo(
    () => (history.recent === null ? null : toGoOnWith(history.recent)),
    [history.recent],
  );
  const { hear, soundNotes, trouble: soundTrouble } = useHearing(services, settings.backing === "heard");
  const { words: openingWords, trouble: openingTrouble, opening } = useOpening();
  const practise = (exercise: Exercise, held: string | null = null, how: Partial<HowToPlay> = {}) =>
    enter({
      kind: "practice",
      session: new PracticeSession(exercise, services, {
        ...settings,
        delayOf,
        afterRound: () => setRun.after(exercise, practise) ?? null,
        ...how,
      }),
      held,
    });
  const demonstrate = (exercise: Exercise) => {
    const session = new PracticeSession(exercise, services, settings);
    enter({ kind: "practice", session, held: null });
    void session.simulate();
  };
  const goOn = async (id: string) => {
    const entry = await history.open(id);
    if (entry !== null) practise(entry.exercise, null, { way: entry.attempt.way });
  };
  const reopen = async (id: string) => {
    const entry = await history.open(id);
    if (entry === null) return;
    const { way } = entry.attempt;
    const session = new PracticeSession(entry.exercise, services, { ...settings, way });
    session.reopen(id, entry.attempt, entry.take, entry.source);
    enter({ kind: "practice", session, held: null });
  };
  const { ladder, pathWeights } = settings;
  const rules = useMemo(() => rulesOf({ ladder, pathWeights }), [ladder, pathWeights]);
  const repertoire = useRepertoire(services, rules.ladder, isTuneRoom(room) ? room.kind : null);
  const tuneRoom = (id: string) => openTune(id, tunes, services.tunes, services.history, services.tuneWork);
  const findTune = async (id: string) => (await tuneRoom(id).catch(() => null))?.open ?? null;
  const showTune = (id: string) =>
    opening("Opening the tune …", async () => {
      const found = await tuneRoom(id);
      if (found !== null) return enter(found);
      enter({ kind: "tunes" });
      throw new Error("that tune is no longer here");
    });
  const leavePractice = (exercise: Exercise) => {
    const { tuneId } = exercise.parameters;
    const listId = setRun.listOf(exercise);
    if (listId !== null) enter({ kind: "set list", id: listId });
    else if (exercise.kind === "tune" && typeof tuneId === "string") void showTune(tuneId);
    else enter({ kind: "drills" });
  };
  const enterRoom = (kind: RoomName) => {
    setRun.end();
    setNews(null);
    if (kind === "today" || kind === "progress") history.lookAgain();
    enter({ kind });
  };
  const given = useGivenFiles({
    bridge: real.archiving.bridge,
    isOnSheet: isSheet(room) || (room.kind === "workshop" && workshopPart === "measure"),
    isAsking: tunes.asking !== null,
    onRoom: enterRoom,
    bringTunes: tunes.bring,
    onAbout: () => setAbout(true),
  });
  const drillHarp = useMemo(() => usualHarp(choice, settings.a4Hz, shelf), [choice, settings.a4Hz, shelf]);
  const ownedHarps = useMemo(() => shelf.harps.map(({ harp }) => harp), [shelf]);
  const tuneHarps = useMemo(
    () => (ownedHarps.length > 0 ? ownedHarps : harpsToTry({ layouts: [drillHarp.layout] })),
    [ownedHarps, drillHarp],
  );
  const beatExercise = useMemo(() => {
    const made = exerciseOfChoice(choice, settings.a4Hz, shelf);
    return made.kind === "exercise" ? made.exercise : null;
  }, [choice, settings.a4Hz, shelf]);
  const abilities = useMemo(() => abilitiesOf(choice), [choice]);
  const tuneWorld = { openTune: findTune, work: services.tuneWork, abilities, rules };
  const setRun = useSetRun(tuneWorld);
  const practiseSet = (set: PlannedSet, listId: string) =>
    opening("Laying the set under the breath …", async () => {
      const first = await setRun.begin(set, listId);
      if (first === null) throw new Error("none of these tunes can be played");
      practise(first);
    });
  const planOfDay = usePlanOfDay({
    services,
    settings,
    onSettings: change,
    delayOf,
    choice,
    drillHarp,
    tunes: {
      openTune: findTune,
      tuneText: tunes.open,
      listed: tunes.all,
      harps: tuneHarps,
      abilities,
      rules,
    },
    room,
    hasHarps: harps.list.kind !== "loading",
    version: history.version,
    onEnter: enter,
  });
  usePreparedProgress(services.progressWork, progressView, room.kind, history.version);
  const isNew = stepNow(settings.firstSteps) !== null && (wantsSteps || recent?.length === 0);
  const said =
    settingsTrouble ??
    history.trouble ??
    harps.trouble ??
    tunes.trouble ??
    repertoire.trouble ??
    openingTrouble ??
    soundTrouble ??
    backupTrouble;
  return (
    <Displayed settings={settings}>
      <RoomKeys room={room} onEnter={enterRoom} onHelp={() => setHelping(true)} />
      <Rooms
        current={room.kind}
        onEnter={enterRoom}
        onHelp={() => setHelping(true)}
        sign={<MicrophoneSign microphones={services.microphones} />}
      />
      {helping && (
        <HelpSheet
          onClose={() => setHelping(false)}
          onAbout={() => {
            setHelping(false);
            setAbout(true);
          }}
        />
      )}
      {isAbout && <AboutSheet isDesktop={real.archiving.bridge !== null} onClose={() => setAbout(false)} />}
      <GivenNotice given={given} />
      <TakesAside
        services={services}
        version={history.version}
        room={room}
        atStart={trouble}
        onOpen={(id) => void opening(OPENING, () => reopen(id))}
        onBeginAgain={onBeginAgain}
      />
      {said !== null && (
        <p className="notice" role="alert">
          {said}
        </p>
      )}
      {news !== null && <p role="status">{news}</p>}
      {(room.kind === "today" || room.kind === "progress") && (
        <ArchiveReminder services={real} version={history.version} />
      )}
      {openingWords !== null && <p role="status">{openingWords}</p>}
      {harps.deleted !== null && <UndoNotice words={harps.deleted} onUndo={harps.undo} />}
      {tunes.deleted !== null && <UndoNotice words={tunes.deleted} onUndo={tunes.undo} />}
      {hasSounded && !settings.cautionsRead.includes("Hearing") && (
        <HearingCaution
          room={room}
          onRead={(risk) => change({ cautionsRead: [...settings.cautionsRead, risk] })}
        />
      )}
      <DemoAbove demo={demo} room={room.kind} history={history.read} />
      {room.kind === "today" && (
        <TodayScreen
          plan={isNew ? null : planOfDay}
          recent={recent}
          trouble={history.read.kind === "trouble" ? history.read.words : null}
          onGoOn={(id) => void opening(OPENING, () => goOn(id))}
          onDrills={() => enterRoom("drills")}
          onTunes={() => enterRoom("tunes")}
        >
          {isNew && (
            <FirstRun
              services={services}
              settings={settings}
              choice={choice}
              shelf={shelf}
              onSettings={change}
              onKeepHarp={harps.keepHarp}
              onPractise={(exercise) => practise(exercise)}
              onDemonstration={demonstrate}
            />
          )}
        </TodayScreen>
      )}
      {isTuneRoom(room) && (
        <TuneRooms
          room={room}
          tunes={tunes}
          work={services.tuneWork}
          store={services.tunes}
          harps={tuneHarps}
          usualLayout={drillHarp.layout}
          ownedHarps={ownedHarps}
          abilities={abilities}
          rules={rules}
          onRules={change}
          query={query}
          onQuery={setQuery}
          onEnter={enter}
          onOpen={(id) => void showTune(id)}
          onPractise={(exercise) => {
            setRun.end();
            practise(exercise);
          }}
          onHear={hear}
          repertoire={repertoire}
          setLists={services.setLists}
          newId={services.newId}
          onPractiseSet={(set, listId) => void practiseSet(set, listId)}
        />
      )}
      {(room.kind === "instrument" || room.kind === "harps") && (
        <InstrumentRooms
          kind={room.kind}
          services={services}
          harps={harps}
          onSound={soundNotes}
          view={view}
          a4Hz={settings.a4Hz}
          onView={look}
          onEnter={enter}
        />
      )}
      {room.kind === "drills" && (
        <DrillsRoom
          choice={choice}
          settings={settings}
          shelf={shelf}
          onSettings={change}
          onPractise={(exercise) => practise(exercise)}
          onHear={hear}
        />
      )}
      {room.kind === "practice" && (
        <PracticeRoom
          room={room}
          onPractise={practise}
          onDrillTempo={(bpm) => change({ lastDrill: { ...choice, bpm } })}
          handsFree={settings}
          onHow={change}
          phraseBeside={async (exercise, step) => {
            const inSet = await setRun.beside(exercise, step);
            return inSet === undefined ? phraseBeside(exercise, step, tuneWorld) : inSet;
          }}
          shelf={recordings}
          onLeave={leavePractice}
        />
      )}
      {room.kind === "plan run" && (
        <PlanRunRoom
          run={room.run}
          handsFree={settings}
          onHow={change}
          phraseBeside={(exercise, step) => phraseBeside(exercise, step, tuneWorld)}
          shelf={recordings}
          onLeave={() => enterRoom("today")}
        />
      )}
      {room.kind === "sound check" && (
        <SoundCheckRoom services={services} settings={settings} onSettings={change} />
      )}
      {room.kind === "settings" && (
        <SettingsRoom
          services={services}
          settings={settings}
          exercise={beatExercise}
          onSettings={change}
          onBeginAgain={onBeginAgain}
          onAbout={() => setAbout(true)}
          given={given}
          onFirstSteps={() => {
            setWantsSteps(true);
            enterRoom("today");
          }}
        />
      )}
      {room.kind === "workshop" && (
        <WorkshopRoom
          part={workshopPart}
          services={services}
          harps={harps}
          onPart={setWorkshopPart}
          tunes={tunes}
          choice={choice}
          onHear={hear}
          onPractise={(exercise) => practise(exercise)}
          onTunes={() => enterRoom("tunes")}
          onAddHarp={() => enter({ kind: "harps" })}
          settings={settings}
          onSettings={change}
        />
      )}
      {room.kind === "progress" && (
        <ProgressRoom
          view={progressView}
          onView={setProgressView}
          work={services.progressWork}
          history={history}
          onOpen={(id) => void opening(OPENING, () => reopen(id))}
          tables={(filter) => <HistoryTables services={real} filter={filter} />}
          onPractise={(exercise) => practise(exercise)}
        />
      )}
      <DemoBelow demo={demo} room={room.kind} history={history.read} />
    </Displayed>
  );
}

const OPENING = "Opening the attempt …";
