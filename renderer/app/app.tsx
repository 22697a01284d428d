import { useMemo, useState } from "react";
import { choiceOfSettings } from "../drills/drill-choice.ts";
import type { InstrumentView } from "../instrument/instrument-view.ts";
import { viewOfSettings, viewToKeep } from "../instrument/kept-view.ts";
import { RecordingsShelf } from "../practice/recordings-marker.ts";
import type { Settings } from "../store/settings-store.ts";
import { stepNow } from "../today/first-step-states.ts";
import { toGoOnWith } from "../today/go-on.ts";
import { TodayScreen } from "../today/today-screen.tsx";
import { UndoNotice } from "../ui/undo-notice.tsx";
import type { WorkshopPart } from "../workshop/workshop-parts.ts";
import { ArchiveReminder, HistoryTables } from "./archive-parts.tsx";
import { DemoAbove, DemoBelow } from "./demo-days.tsx";
import { Displayed } from "./displayed.tsx";
import { DrillsRoom } from "./drills-room.tsx";
import { FirstRun } from "./first-run.tsx";
import { GivenNotice } from "./given-files.tsx";
import { HearingCaution } from "./hearing-caution.tsx";
import { InstrumentRooms } from "./instrument-rooms.tsx";
import { MicrophoneSign } from "./microphone-sign.tsx";
import { PlanRunRoom } from "./plan-run-room.tsx";
import { PracticeRoom } from "./practice-room.tsx";
import { FIRST_PROGRESS_VIEW, ProgressRoom } from "./progress-room.tsx";
import { isSheet, isTuneRoom, type RoomName, useRoom } from "./room.ts";
import { RoomKeys } from "./room-keys.tsx";
import { Rooms } from "./rooms.tsx";
import type { Services } from "./services.ts";
import { SettingsRoom } from "./settings-room.tsx";
import { SheetsAbove, useSheetsAbove } from "./sheets-above.tsx";
import { SoundCheckRoom } from "./sound-check-room.tsx";
import { TakesAside } from "./takes-aside.tsx";
import { openTune, TuneRooms } from "./tune-rooms.tsx";
import { useAfterAttempts } from "./use-after-attempts.ts";
import { useChosen } from "./use-chosen.ts";
import { useDemoDays } from "./use-demo-days.ts";
import { useFirstSound } from "./use-first-sound.ts";
import { useGivenFiles } from "./use-given-files.ts";
import { useHarps } from "./use-harps.ts";
import { useHearing } from "./use-hearing.ts";
import { useHistory } from "./use-history.ts";
import { useKeptSettings } from "./use-kept-settings.ts";
import { useOpening } from "./use-opening.ts";
import { usePlanOfDay } from "./use-plan-of-day.ts";
import { usePractising } from "./use-practising.ts";
import { usePreparedProgress } from "./use-prepared-progress.ts";
import { useRepertoire } from "./use-repertoire.ts";
import { useSoundDevices } from "./use-sound-devices.ts";
import { useTuneBackings } from "./use-tune-backings.ts";
import { useTunes } from "./use-tunes.ts";
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
  const sheets = useSheetsAbove();
  const [wantsSteps, setWantsSteps] = useState(false);
  const backings = useTuneBackings(tunes, services.tuneWork);
  const { shelf, drillHarp, ownedHarps, tuneHarps, exercise, abilities, rules } = useChosen(
    choice,
    settings,
    harps,
    backsTunes ? backings : null,
  );
  const recent = useMemo(
    () => (history.recent === null ? null : toGoOnWith(history.recent)),
    [history.recent],
  );
  const { hear, soundNotes, trouble: soundTrouble } = useHearing(services, settings.backing === "heard");
  const { words: openingWords, trouble: openingTrouble, opening } = useOpening();
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
  const practising = usePractising({
    services,
    settings,
    delayOf,
    history,
    openTune: findTune,
    abilities,
    rules,
    opening,
    onEnter: enter,
    onTune: (id) => void showTune(id),
  });
  const { practise } = practising;
  const enterRoom = (kind: RoomName) => {
    practising.endSet();
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
    onAbout: sheets.onAbout,
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
      <RoomKeys room={room} onEnter={enterRoom} onHelp={sheets.onHelp} />
      <Rooms
        current={room.kind}
        onEnter={enterRoom}
        onHelp={sheets.onHelp}
        sign={<MicrophoneSign microphones={services.microphones} />}
      />
      <SheetsAbove sheets={sheets} isDesktop={real.archiving.bridge !== null} />
      <GivenNotice given={given} />
      <TakesAside
        services={services}
        version={history.version}
        room={room}
        atStart={trouble}
        onOpen={practising.reopen}
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
          onGoOn={practising.goOn}
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
              onDemonstration={practising.demonstrate}
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
          onPractise={practising.practiseApart}
          onHear={hear}
          repertoire={repertoire}
          setLists={services.setLists}
          newId={services.newId}
          onPractiseSet={practising.practiseSet}
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
          phraseBeside={practising.beside}
          shelf={recordings}
          onLeave={practising.leave}
        />
      )}
      {room.kind === "plan run" && (
        <PlanRunRoom
          run={room.run}
          handsFree={settings}
          onHow={change}
          phraseBeside={practising.beside}
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
          exercise={exercise}
          onSettings={change}
          onBeginAgain={onBeginAgain}
          onAbout={sheets.onAbout}
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
          onOpen={practising.reopen}
          tables={(filter) => <HistoryTables services={real} filter={filter} />}
          onPractise={(exercise) => practise(exercise)}
        />
      )}
      <DemoBelow demo={demo} room={room.kind} history={history.read} />
    </Displayed>
  );
}
