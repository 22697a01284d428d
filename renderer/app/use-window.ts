import { useMemo, useState } from "react";
import { choiceOfSettings } from "../drills/drill-choice.ts";
import type { InstrumentView } from "../instrument/instrument-view.ts";
import { viewOfSettings, viewToKeep } from "../instrument/kept-view.ts";
import { RecordingsShelf } from "../practice/recordings-marker.ts";
import type { Settings } from "../store/settings-store.ts";
import { stepNow } from "../today/first-step-states.ts";
import { toGoOnWith } from "../today/go-on.ts";
import type { WorkshopPart } from "../workshop/workshop-parts.ts";
import { FIRST_PROGRESS_VIEW } from "./progress-room.tsx";
import { isSheet, isTuneRoom, type RoomName, useRoom } from "./room.ts";
import type { Services } from "./services.ts";
import { useSheetsAbove } from "./sheets-above.tsx";
import { openTune } from "./tune-rooms.tsx";
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

export interface WindowProps {
  readonly services: Services;
  readonly firstSettings: Settings;
  /** One sentence if the settings could not be read, or null. */
  readonly trouble: string | null;
  /** What was done before everything was begun anew, as a sentence, or null. */
  readonly told: string | null;
  readonly onBeginAgain: (told: string) => Promise<void>;
}

/** Everything the rooms show and do, of which more than one needs something. */
export type OpenWindow = ReturnType<typeof useWindow>;

/** Joins the screens: which one is open, what was chosen, and what is kept. */
export function useWindow({ services: real, firstSettings, trouble, told, onBeginAgain }: WindowProps) {
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
  const chosen = useChosen(choice, settings, harps, backsTunes ? backings : null);
  const { drillHarp, tuneHarps, abilities, rules } = chosen;
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
    void opening("Opening the tune …", async () => {
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
    onTune: showTune,
  });
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
  return {
    ...{ services, real, settings, change, history, demo, news, harps, room, enter, enterRoom, hasSounded },
    ...{ choice, chosen, tunes, repertoire, showTune, recent, hear, soundNotes, recordings, practising },
    ...{ sheets, given, planOfDay, isNew, said, openingWords, trouble, onBeginAgain },
    instrument: { view, look },
    progress: { view: progressView, look: setProgressView },
    workshop: { part: workshopPart, look: setWorkshopPart },
    search: { query, look: setQuery },
    onFirstSteps: () => {
      setWantsSteps(true);
      enterRoom("today");
    },
  };
}
