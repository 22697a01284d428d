import { useCallback, useMemo, useRef, useState } from "react";
import { changeTempo } from "../../core/exercise/change-tempo.ts";
import type { Exercise } from "../../core/exercise/exercise.ts";
import { makeDrill } from "../../core/exercise/make-drill.ts";
import type { Harp } from "../../core/instrument/harp.ts";
import { harpsToTry } from "../../core/path/harps-to-try.ts";
import { choiceOfSettings, type DrillChoice, FIRST_CHOICE } from "../drills/drill-choice.ts";
import { DrillsScreen } from "../drills/drills-screen.tsx";
import { exerciseOfChoice } from "../drills/exercise-of-choice.ts";
import { EMPTY_SHELF, harpOfChoice, type Shelf } from "../drills/shelf.ts";
import { SoundSettings } from "../drills/sound-settings.tsx";
import { abilitiesOf } from "../drills/spec-of-choice.ts";
import { type HarpList, HarpsScreen } from "../harps/harps-screen.tsx";
import { HistoryScreen } from "../history/history-screen.tsx";
import { InstrumentScreen } from "../instrument/instrument-screen.tsx";
import { type InstrumentView, leaveDraft } from "../instrument/instrument-view.ts";
import { viewOfSettings, viewToKeep } from "../instrument/kept-view.ts";
import { PracticeScreen } from "../practice/practice-screen.tsx";
import { PracticeSession } from "../practice/practice-session.ts";
import type { OwnLayout } from "../store/harp-store.ts";
import type { Settings } from "../store/settings-store.ts";
import { rulesOf } from "../tunes/tune-view.ts";
import { UndoNotice } from "../ui/undo-notice.tsx";
import { Rooms } from "./rooms.tsx";
import type { Services } from "./services.ts";
import { openTune, type TuneRoom, TuneRooms } from "./tune-rooms.tsx";
import { useHarps } from "./use-harps.ts";
import { useHistory } from "./use-history.ts";
import { useKeptSettings } from "./use-kept-settings.ts";
import { useTunes } from "./use-tunes.ts";
import "./app.css";

interface AppProps {
  readonly services: Services;
  readonly firstSettings: Settings;
  /** One sentence if the settings could not be read, or null. */
  readonly trouble: string | null;
}

type Room =
  | { readonly kind: "drills" }
  /** `held` is why the tempo goes no further, where the player tried. */
  | { readonly kind: "practice"; readonly session: PracticeSession; readonly held: string | null }
  | { readonly kind: "instrument" }
  | { readonly kind: "harps" }
  | { readonly kind: "history" }
  | TuneRoom;

const isTuneRoom = (room: Room): room is TuneRoom =>
  room.kind === "tunes" || room.kind === "tune" || room.kind === "write a tune";

/** Joins the screens: which one is open, what was chosen, and what is kept. */
export function App({ services, firstSettings, trouble }: AppProps) {
  const { settings, change, trouble: settingsTrouble } = useKeptSettings(services.settings, firstSettings);
  const history = useHistory(services.history);
  const harps = useHarps(services.harps);
  const [view, setView] = useState(() => viewOfSettings(firstSettings.lastInstrument));
  const look = (next: InstrumentView) => {
    setView(next);
    change({ lastInstrument: viewToKeep(next) });
  };
  const [room, enter] = useRoom();
  const tunes = useTunes(services.tunes, services.tuneWork, isTuneRoom(room));
  const [query, setQuery] = useState("");
  const choice = useMemo(() => choiceOfSettings(settings.lastDrill), [settings.lastDrill]);
  const setChoice = (next: DrillChoice) => change({ lastDrill: { ...next } });
  const shelf = useMemo(() => shelfOf(harps.list, harps.layouts), [harps.list, harps.layouts]);
  const hear = useCallback(
    async (exercise: Exercise, onEnd: () => void) => {
      const sounding = await services.reference.play(exercise, {
        notes: true,
        metronome: "none",
        countIn: false,
        backing: settings.backing === "heard",
        onEnd,
      });
      return () => sounding.stop();
    },
    [services, settings.backing],
  );
  const practise = (exercise: Exercise, held: string | null = null, way = settings.way) =>
    enter({
      kind: "practice",
      session: new PracticeSession(exercise, services, { ...settings, way }),
      held,
    });
  const practiseChoice = () => {
    const made = exerciseOfChoice(choice, settings.a4Hz, shelf);
    if (made.kind === "exercise") practise(made.exercise);
  };
  const reopen = async (id: string) => {
    const entry = await history.open(id);
    if (entry === null) return;
    const { way } = entry.attempt;
    const session = new PracticeSession(entry.exercise, services, { ...settings, way });
    session.reopen(id, entry.attempt, entry.take, entry.source);
    enter({ kind: "practice", session, held: null });
  };
  const showTune = async (id: string) => {
    const { tunes: store, tuneWork, history: past } = services;
    const opened = await openTune(id, tunes, store, past, tuneWork).catch(() => null);
    enter(opened ?? { kind: "tunes" });
  };
  const leavePractice = (exercise: Exercise) => {
    const { tuneId } = exercise.parameters;
    if (exercise.kind === "tune" && typeof tuneId === "string") void showTune(tuneId);
    else enter({ kind: "drills" });
  };
  const drillHarp = useMemo(() => usualHarp(choice, settings.a4Hz, shelf), [choice, settings.a4Hz, shelf]);
  const ownedHarps = useMemo(() => shelf.harps.map(({ harp }) => harp), [shelf]);
  const tuneHarps = useMemo(
    () => (ownedHarps.length > 0 ? ownedHarps : harpsToTry({ layouts: [drillHarp.layout] })),
    [ownedHarps, drillHarp],
  );
  const abilities = useMemo(() => abilitiesOf(choice), [choice]);
  const { ladder, pathWeights } = settings;
  const rules = useMemo(() => rulesOf({ ladder, pathWeights }), [ladder, pathWeights]);
  const said = trouble ?? settingsTrouble ?? history.trouble ?? harps.trouble ?? tunes.trouble;
  return (
    <>
      <Rooms
        current={room.kind}
        onDrills={() => enter({ kind: "drills" })}
        onTunes={() => enter({ kind: "tunes" })}
        onInstrument={() => enter({ kind: "instrument" })}
        onHarps={() => enter({ kind: "harps" })}
        onHistory={() => {
          history.refresh();
          enter({ kind: "history" });
        }}
      />
      {said !== null && (
        <p className="notice" role="alert">
          {said}
        </p>
      )}
      {harps.deleted !== null && <UndoNotice words={harps.deleted} onUndo={harps.undo} />}
      {tunes.deleted !== null && <UndoNotice words={tunes.deleted} onUndo={tunes.undo} />}
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
          onPractise={(exercise) => practise(exercise)}
          onHear={hear}
        />
      )}
      {room.kind === "instrument" && (
        <InstrumentScreen
          view={view}
          a4Hz={settings.a4Hz}
          own={harps.layouts}
          onView={look}
          onSound={(pitches, length) => void services.reeds.soundNotes(pitches, length)}
          newId={services.newId}
          onKeep={harps.keepLayout}
          onDelete={harps.removeLayout}
        />
      )}
      {room.kind === "harps" && (
        <HarpsScreen
          list={harps.list}
          own={harps.layouts.map((one) => one.layout)}
          a4Hz={settings.a4Hz}
          newId={services.newId}
          onKeep={harps.keepHarp}
          onDelete={harps.removeHarp}
          onShow={(chosen) => {
            look(leaveDraft({ ...view, chosen }));
            enter({ kind: "instrument" });
          }}
        />
      )}
      {room.kind === "drills" && (
        <DrillsScreen
          choice={choice}
          a4Hz={settings.a4Hz}
          shelf={shelf}
          onChange={setChoice}
          onPractise={practiseChoice}
          onHear={hear}
        >
          <SoundSettings settings={settings} onChange={change} />
        </DrillsScreen>
      )}
      {room.kind === "practice" && room.held !== null && (
        <p className="notice" role="status">
          {room.held}
        </p>
      )}
      {room.kind === "practice" && (
        <PracticeScreen
          key={sessionKey(room.session)}
          session={room.session}
          onTempo={(step) => {
            const { exercise, held } = changeTempo(room.session.exercise, step);
            if (exercise.kind !== "tune") change({ lastDrill: { ...choice, bpm: exercise.tempo.bpm } });
            practise(exercise, held);
          }}
          onWay={(way) => {
            change({ way });
            practise(room.session.exercise, null, way);
          }}
          onDrill={(drill) => {
            const made = makeDrill(drill);
            if (made.kind === "exercise") practise(made.exercise);
          }}
          onLeave={() => leavePractice(room.session.exercise)}
        />
      )}
      {room.kind === "history" && (
        <HistoryScreen
          list={history.list}
          deleted={history.deleted?.exercise.title ?? null}
          onOpen={(id) => void reopen(id)}
          onDelete={history.remove}
          onUndo={history.undo}
        />
      )}
    </>
  );
}

/** What the drill chooser offers besides the stock harps. */
function shelfOf(list: HarpList, layouts: readonly OwnLayout[]): Shelf {
  const harps = list.kind === "harps" ? list.harps : EMPTY_SHELF.harps;
  return { harps, layouts: layouts.map((one) => one.layout) };
}

/** The harp the drills are set to; a G harp where that is no longer there. */
function usualHarp(choice: DrillChoice, a4Hz: number, shelf: Shelf): Harp {
  const harp = harpOfChoice(choice, a4Hz, shelf) ?? harpOfChoice(FIRST_CHOICE, a4Hz, EMPTY_SHELF);
  if (harp === null) throw new Error("there is always a G harp");
  return harp;
}

/** The open room; leaving the practice room ends its session and with it the microphone. */
function useRoom(): readonly [Room, (next: Room) => void] {
  const [room, setRoom] = useState<Room>({ kind: "drills" });
  const open = useRef<Room>(room);
  const enter = (next: Room) => {
    if (open.current.kind === "practice") open.current.session.dispose();
    open.current = next;
    setRoom(next);
  };
  return [room, enter];
}

const sessionKeys = new WeakMap<PracticeSession, number>();
let sessionCount = 0;

/** A new session is a new sheet, with nothing left of the one before. */
function sessionKey(session: PracticeSession): number {
  const known = sessionKeys.get(session);
  if (known !== undefined) return known;
  sessionKeys.set(session, ++sessionCount);
  return sessionCount;
}
