import type { ReedpathBridge } from "../../electron/bridge.ts";
import { type ArchiveWork, createArchiveWork } from "../archive/archive-work.ts";
import { backUp, listBackups } from "../archive/backup-files.ts";
import { BackupKeeper } from "../archive/backup-keeper.ts";
import { ArchiveNotes } from "../store/archive-notes.ts";
import { ArchiveStore } from "../store/archive-store.ts";
import type { ReedpathDatabase } from "../store/database.ts";
import type { HistoryStore } from "../store/history-store.ts";

/** Everything about archives, and what has to be done once an attempt was kept. */
export interface Archiving {
  readonly work: ArchiveWork;
  readonly notes: ArchiveNotes;
  /** Forgets everything. */
  readonly wipe: () => Promise<void>;
  /** Null in a plain browser. */
  readonly bridge: ReedpathBridge | null;
  readonly backups: BackupKeeper | null;
  /** Told of each attempt once it was kept. @returns ends it */
  readonly onAttemptKept: (listener: () => void) => () => void;
}

/** @param history its `save` tells of each attempt from now on */
export function createArchiving(
  database: ReedpathDatabase,
  history: HistoryStore,
  bridge: ReedpathBridge | null,
): Archiving {
  const work = createArchiveWork();
  const listeners = new Set<() => void>();
  const save = history.save.bind(history);
  history.save = async (entry, how) => {
    const id = await save(entry, how);
    for (const listener of listeners) listener();
    return id;
  };
  return {
    work,
    notes: new ArchiveNotes(database),
    wipe: () => new ArchiveStore(database).wipe(),
    bridge,
    backups: bridge === null ? null : keeperOf(bridge, work, history),
    onAttemptKept: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}

function keeperOf(bridge: ReedpathBridge, work: ArchiveWork, history: HistoryStore): BackupKeeper {
  return new BackupKeeper({
    newest: async () => (await listBackups(bridge))[0] ?? null,
    history: async () => {
      const [attempts, [last]] = await Promise.all([history.count({}), history.recent(1)]);
      return last === undefined ? null : { attempts, lastAtEpochMs: last.atEpochMs };
    },
    backUp: (attempts) => backUp(bridge, work, attempts),
    after: (ms, act) => {
      const timer = setTimeout(act, ms);
      return () => clearTimeout(timer);
    },
  });
}
