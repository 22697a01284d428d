import { useMemo, useState, useSyncExternalStore } from "react";
import { recordingBytes } from "../audio/file-limit.ts";
import { type Gathered, MOST_RECORDINGS } from "../practice/gather-recordings.ts";
import type { PracticeSession } from "../practice/practice-session.ts";
import { isBusy } from "../practice/practice-state.ts";
import type { RecordingsShelf } from "../practice/recordings-marker.ts";
import { sentence } from "./use-history.ts";

/** The recordings of a sheet: which are marked, and whether their table or the sheet is seen. */
export function useRecordings(session: PracticeSession, shelf: RecordingsShelf) {
  const marker = useMemo(() => shelf.of(session.exercise, session.markingSettings()), [shelf, session]);
  const { rows } = useSyncExternalStore(marker.subscribe, marker.getState);
  // What is seen belongs to one sheet: another tempo is another sheet, with a table of its own.
  const [view, setView] = useState<{ readonly of: PracticeSession; readonly what: "table" | "row" } | null>(
    null,
  );
  const [trouble, setTrouble] = useState<string | null>(null);
  const showTable = () => {
    // No note held and no next round may begin a take behind the table.
    if (session.getState().kind === "ready") session.stop();
    session.stay();
    setView({ of: session, what: "table" });
  };
  const take = (gathered: Gathered) => {
    const why = whyNotTaken(gathered);
    setTrouble(why);
    const [first] = gathered.recordings;
    if (why !== null || first === undefined || isBusy(session.getState())) return;
    if (gathered.recordings.length === 1 && !gathered.folder) {
      void session.markRecording(first.name, recordingBytes(first.file));
      return;
    }
    void marker.start(gathered);
    showTable();
  };
  return {
    marker,
    trouble,
    seen: view?.of === session ? view.what : "sheet",
    inTable: rows.length,
    showTable,
    showSheet: () => setView(null),
    onRecordings: (gathering: Promise<Gathered>) =>
      void gathering.then(take, (error: unknown) =>
        setTrouble(`What was dropped cannot be looked into: ${sentence(error)}`),
      ),
    open: (at: number) => {
      const file = marker.fileOf(at);
      const name = rows[at]?.name;
      if (file === null || name === undefined) return;
      marker.lastOpened = at;
      void session.markRecording(name, recordingBytes(file), "anybody's");
      setView({ of: session, what: "row" });
    },
  };
}

function whyNotTaken({ recordings, folder }: Gathered): string | null {
  if (recordings.length > MOST_RECORDINGS)
    return `There are ${recordings.length} recordings; at most ${MOST_RECORDINGS} are marked at once. Choose a smaller folder.`;
  return recordings.length === 0 && folder
    ? "There is no recording in this folder. Recordings end in .wav, .flac, .mp3, .m4a, .ogg or the like."
    : null;
}
