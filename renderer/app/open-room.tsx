import { TodayScreen } from "../today/today-screen.tsx";
import { HistoryTables } from "./archive-parts.tsx";
import { DrillsRoom } from "./drills-room.tsx";
import { FirstRun } from "./first-run.tsx";
import { InstrumentRooms } from "./instrument-rooms.tsx";
import { PlanRunRoom } from "./plan-run-room.tsx";
import { PracticeRoom } from "./practice-room.tsx";
import { ProgressRoom } from "./progress-room.tsx";
import type { Room } from "./room.ts";
import { SettingsRoom } from "./settings-room.tsx";
import { SoundCheckRoom } from "./sound-check-room.tsx";
import { type TuneRoom, TuneRooms } from "./tune-rooms.tsx";
import type { OpenWindow } from "./use-window.ts";
import { WorkshopRoom } from "./workshop-room.tsx";

interface RoomProps {
  readonly all: OpenWindow;
}

/** The room that is open. */
export function OpenRoom({ all }: RoomProps) {
  const { room, services, settings, change, choice, chosen, hear, practising } = all;
  switch (room.kind) {
    case "today":
      return <Today all={all} />;
    case "drills":
      return (
        <DrillsRoom
          choice={choice}
          settings={settings}
          shelf={chosen.shelf}
          onSettings={change}
          onPractise={(exercise) => practising.practise(exercise)}
          onHear={hear}
        />
      );
    case "practice":
      return <Practice all={all} room={room} />;
    case "plan run":
      return (
        <PlanRunRoom
          run={room.run}
          handsFree={settings}
          onHow={change}
          phraseBeside={practising.beside}
          shelf={all.recordings}
          onLeave={() => all.enterRoom("today")}
        />
      );
    case "instrument":
    case "harps":
      return <Instrument all={all} kind={room.kind} />;
    case "progress":
      return <Progress all={all} />;
    case "sound check":
      return <SoundCheckRoom services={services} settings={settings} onSettings={change} />;
    case "settings":
      return (
        <SettingsRoom
          services={services}
          settings={settings}
          exercise={chosen.exercise}
          onSettings={change}
          onBeginAgain={all.onBeginAgain}
          onAbout={all.sheets.onAbout}
          given={all.given}
          onFirstSteps={all.onFirstSteps}
        />
      );
    case "workshop":
      return <Workshop all={all} />;
    default:
      return <Tunes all={all} room={room} />;
  }
}

function Today({ all }: RoomProps) {
  const { services, settings, change, history, harps, choice, chosen, practising, isNew } = all;
  return (
    <TodayScreen
      plan={isNew ? null : all.planOfDay}
      recent={all.recent}
      trouble={history.read.kind === "trouble" ? history.read.words : null}
      onGoOn={practising.goOn}
      onDrills={() => all.enterRoom("drills")}
      onTunes={() => all.enterRoom("tunes")}
    >
      {isNew && (
        <FirstRun
          services={services}
          settings={settings}
          choice={choice}
          shelf={chosen.shelf}
          onSettings={change}
          onKeepHarp={harps.keepHarp}
          onPractise={(exercise) => practising.practise(exercise)}
          onDemonstration={practising.demonstrate}
        />
      )}
    </TodayScreen>
  );
}

function Tunes({ all, room }: RoomProps & { readonly room: TuneRoom }) {
  const { services, chosen, practising, search } = all;
  return (
    <TuneRooms
      room={room}
      tunes={all.tunes}
      work={services.tuneWork}
      store={services.tunes}
      harps={chosen.tuneHarps}
      usualLayout={chosen.drillHarp.layout}
      ownedHarps={chosen.ownedHarps}
      abilities={chosen.abilities}
      rules={chosen.rules}
      onRules={all.change}
      query={search.query}
      onQuery={search.look}
      onEnter={all.enter}
      onOpen={all.showTune}
      onPractise={practising.practiseApart}
      onHear={all.hear}
      repertoire={all.repertoire}
      setLists={services.setLists}
      newId={services.newId}
      onPractiseSet={practising.practiseSet}
    />
  );
}

function Instrument({ all, kind }: RoomProps & { readonly kind: "instrument" | "harps" }) {
  const { services, settings, harps, instrument } = all;
  return (
    <InstrumentRooms
      kind={kind}
      services={services}
      harps={harps}
      onSound={all.soundNotes}
      view={instrument.view}
      a4Hz={settings.a4Hz}
      onView={instrument.look}
      onEnter={all.enter}
    />
  );
}

function Practice({ all, room }: RoomProps & { readonly room: Extract<Room, { kind: "practice" }> }) {
  const { settings, change, choice, practising } = all;
  return (
    <PracticeRoom
      room={room}
      onPractise={practising.practise}
      onDrillTempo={(bpm) => change({ lastDrill: { ...choice, bpm } })}
      handsFree={settings}
      onHow={change}
      phraseBeside={practising.beside}
      shelf={all.recordings}
      onLeave={practising.leave}
    />
  );
}

function Workshop({ all }: RoomProps) {
  const { services, settings, change, harps, tunes, choice, workshop, practising } = all;
  return (
    <WorkshopRoom
      part={workshop.part}
      services={services}
      harps={harps}
      onPart={workshop.look}
      tunes={tunes}
      choice={choice}
      onHear={all.hear}
      onPractise={(exercise) => practising.practise(exercise)}
      onTunes={() => all.enterRoom("tunes")}
      onAddHarp={() => all.enter({ kind: "harps" })}
      settings={settings}
      onSettings={change}
    />
  );
}

function Progress({ all }: RoomProps) {
  const { services, real, history, progress, practising } = all;
  return (
    <ProgressRoom
      view={progress.view}
      onView={progress.look}
      work={services.progressWork}
      history={history}
      onOpen={practising.reopen}
      tables={(filter) => <HistoryTables services={real} filter={filter} />}
      onPractise={(exercise) => practising.practise(exercise)}
    />
  );
}
