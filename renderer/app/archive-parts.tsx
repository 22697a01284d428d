import { useCallback, useEffect, useRef, useState, useSyncExternalStore } from "react";
import type { Backup } from "../../electron/bridge.ts";
import { archiveName, tableName } from "../archive/archive-name.ts";
import { ArchivePart } from "../archive/archive-part.tsx";
import { listBackups, readBackup } from "../archive/backup-files.ts";
import type { BackupsRead } from "../archive/backups-part.tsx";
import { Reminder } from "../archive/reminder.tsx";
import { atRisk, QUIET_MS } from "../archive/reminder-rule.ts";
import { TableButtons } from "../archive/table-buttons.tsx";
import { useArchives } from "../archive/use-archives.ts";
import type { Practised } from "../store/archive-note.ts";
import type { AttemptFilter } from "../store/history-store.ts";
import type { Archiving } from "./archiving.ts";
import type { GivenFiles } from "./use-given-files.ts";

export interface ArchiveServices {
  readonly archiving: Archiving;
  readonly nowEpochMs: () => number;
  readonly zone: () => string;
}

interface SettingsArchivesProps {
  readonly services: ArchiveServices;
  /** Everything is read again, as what is kept is another now; the words say what was done. */
  readonly onChanged: (words: string) => Promise<void>;
  readonly given: Pick<GivenFiles, "archive" | "archiveTaken">;
}

/** Archives and backups, as they stand in the settings. */
export function SettingsArchives({ services, onChanged, given }: SettingsArchivesProps) {
  const { archiving } = services;
  const archives = useArchives({
    ...archivesOf(services),
    onSaved: () => archiving.notes.saved().catch(() => {}),
    onChanged,
  });
  const backups = useBackups(archiving);
  const openBackup = async ({ name }: Backup) =>
    archiving.bridge === null ? new Blob([]) : readBackup(archiving.bridge, name);
  const part = useRef<HTMLDivElement>(null);
  const { archive, archiveTaken } = given;
  const isGiven = useRef(false);
  const { look, state } = archives;
  const isBusy = state.kind === "busy";
  // biome-ignore lint/correctness/useExhaustiveDependencies: each file given is looked through once
  useEffect(() => {
    // What is being saved or brought in comes first.
    if (archive === null || isBusy) return;
    isGiven.current = true;
    look(archive.name, archive.open);
    archiveTaken();
  }, [archive, isBusy]);
  useEffect(() => {
    if (isGiven.current && state.kind !== "idle") part.current?.scrollIntoView();
    isGiven.current &&= state.kind === "idle" || state.kind === "busy";
  }, [state.kind]);
  return (
    <div ref={part}>
      <ArchivePart archives={archives} backups={backups} openBackup={openBackup} />
    </div>
  );
}

interface ArchiveReminderProps {
  readonly services: ArchiveServices;
  /** Counts on whenever the history changes. */
  readonly version: number;
}

/** In a plain browser: that what was practised lately is in no archive. */
export function ArchiveReminder({ services, version }: ArchiveReminderProps) {
  const { archiving, nowEpochMs } = services;
  const [since, setSince] = useState<Practised | null>(null);
  const look = useCallback(async () => {
    if (archiving.bridge !== null) return;
    const [practised, note] = await Promise.all([archiving.notes.practised(), archiving.notes.read()]);
    setSince(atRisk(practised, note, nowEpochMs()));
  }, [archiving, nowEpochMs]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the history changed where the version did
  useEffect(() => {
    // Whoever reads the history tells what is wrong with it.
    look().catch(() => setSince(null));
  }, [look, version]);
  const archives = useArchives({
    ...archivesOf(services),
    onSaved: () => archiving.notes.saved().catch(() => {}),
    onChanged: async () => {},
  });
  const later = () => {
    setSince(null);
    void archiving.notes.quietUntil(nowEpochMs() + QUIET_MS).catch(() => {});
  };
  return <Reminder since={since} archives={archives} onLater={later} />;
}

function archivesOf({ archiving, nowEpochMs, zone }: ArchiveServices) {
  const { work, notes, wipe } = archiving;
  return {
    work: {
      ...work,
      bringIn: (...args: Parameters<typeof work.bringIn>) => notes.broughtInBy(() => work.bringIn(...args)),
    },
    name: () => archiveName(nowEpochMs(), zone()),
    wipe,
  };
}

interface HistoryTablesProps {
  readonly services: ArchiveServices;
  readonly filter: AttemptFilter;
}

/** What the list of attempts shows, as a file for other programs. */
export function HistoryTables({ services, filter }: HistoryTablesProps) {
  const { archiving, nowEpochMs, zone } = services;
  return (
    <TableButtons work={archiving.work} name={(of) => tableName(of, nowEpochMs(), zone())} filter={filter} />
  );
}

/** Null in a plain browser; read anew whenever one was saved. */
function useBackups({ bridge, backups }: Archiving): BackupsRead | null {
  const [read, setRead] = useState<BackupsRead>({ kind: "reading" });
  const saved = useSyncExternalStore(backups?.subscribe ?? NEVER, () => backups?.getState().saved ?? 0);
  // biome-ignore lint/correctness/useExhaustiveDependencies: there are others once one was saved
  useEffect(() => {
    if (bridge === null) return;
    listBackups(bridge).then(
      (list) => setRead({ kind: "read", backups: list }),
      (error: unknown) => setRead({ kind: "trouble", words: wordsOf(error) }),
    );
  }, [bridge, saved]);
  return bridge === null ? null : read;
}

const NEVER = () => () => {};
const wordsOf = (error: unknown) => (error instanceof Error ? error.message : String(error));
