import type { ReactNode } from "react";
import { openAgain, type ReedpathDatabase } from "../store/database.ts";
import type { LongWork } from "../store/history-store.ts";
import { attemptsToBringBack, bringBack } from "../store/second-copy/bring-back.ts";
import { closeWell, openWell } from "../store/second-copy/open-well.ts";
import { BusyLine } from "../ui/busy-line.tsx";
import { copyInWorker } from "./copy-work.ts";
import "./upgrade-notes.css";

/** What came out of the second copy when the window was opened. */
export interface BroughtBack {
  /** Attempts that came back; 0 where nothing had to. */
  readonly attempts: number;
  /** Attempts that are still in the copy only. */
  readonly left: number;
  /** Why they are, where nobody stopped it. */
  readonly trouble: string | null;
  /** Whether the copy held everything that was ever kept. */
  readonly isAll: boolean;
}

export const NOTHING_BACK: BroughtBack = { attempts: 0, left: 0, trouble: null, isAll: false };

/**
 * Brings back what a database lacks that the browser made anew, before anything reads it: the player sees how far that is and may
 * stop it; what came back until then is whole, and the rest comes back the next time. Never rejects.
 *
 * @param database as it was opened, or not
 * @param show puts something into the window that is otherwise empty
 * @param inWorker brings attempts back off the window's thread
 */
export async function broughtBack(
  database: ReedpathDatabase,
  show: (content: ReactNode) => void,
  inWorker: (work: LongWork) => Promise<void> = (work) => copyInWorker("bring back", work),
): Promise<BroughtBack> {
  const { secondCopy } = database;
  if (secondCopy === null) return NOTHING_BACK;
  let inCopy = 0;
  const stop = new AbortController();
  try {
    inCopy = await attemptsToBringBack(database);
    if (inCopy > 0) {
      const onProgress = (share: number) => show(<BringingBack share={share} onStop={() => stop.abort()} />);
      onProgress(0);
      await inWorker({ onProgress, signal: stop.signal });
    } else {
      await bringBack(database);
    }
    return { attempts: inCopy, left: 0, trouble: null, isAll: await secondCopy.isWhole() };
  } catch (error) {
    // Where the copy could not be asked, nobody knows of anything to bring back.
    const attempts = inCopy === 0 ? 0 : await database.lines.count().catch(() => 0);
    const trouble = stop.signal.aborted ? null : error instanceof Error ? error.message : String(error);
    const isAll = await secondCopy.isWhole().catch(() => false);
    return { attempts, left: Math.max(0, inCopy - attempts), trouble, isAll };
  }
}

/** Does what is to be done with an opened database before anything is written, and notes the window's end. Never rejects. */
export async function openedWell(
  database: ReedpathDatabase,
  show: (content: ReactNode) => void,
): Promise<BroughtBack> {
  let returned = NOTHING_BACK;
  noteEnd(database);
  if (!database.isOpen()) return returned;
  const bringBack = async () => {
    returned = await broughtBack(database, show);
  };
  // What can be done no better is told of by whoever reads or writes.
  await openWell(database, bringBack).catch(() => {});
  return returned;
}

/** Opens a database that could not be opened, as a window opens one. Rejects with a StoreTrouble where it cannot be. */
export async function openedAgain(
  database: ReedpathDatabase,
  inWorker: () => Promise<void> = () => copyInWorker("bring back"),
): Promise<void> {
  if (database.isOpen()) return;
  await openAgain(database);
  await openWell(database, inWorker).catch(() => {});
}

/** Notes it when this window is closed, and, where another is, that this one is open still. */
function noteEnd(database: ReedpathDatabase): void {
  if (database.secondCopy === null) return;
  const windows = new BroadcastChannel("reedpath windows");
  windows.onmessage = () => {
    if (database.isOpen()) database.engine.put({ id: "open" }).catch(() => {});
  };
  window.addEventListener("pagehide", () => {
    closeWell(database);
    windows.postMessage("closed");
  });
}

/** Stands alone in the window meanwhile. */
function BringingBack({ share, onStop }: { readonly share: number; readonly onStop: () => void }) {
  return (
    <main className="upgrade">
      <h1>Reedpath</h1>
      <BusyLine
        words="Your history was damaged on the disk, and comes back out of its second copy"
        share={share}
        onStop={onStop}
      />
      <p className="soft">Stopped, the rest comes back the next time.</p>
    </main>
  );
}

/** Has the second copy take in what it lacks, behind the open window. */
export async function completeCopy(database: ReedpathDatabase): Promise<void> {
  const { secondCopy } = database;
  if (secondCopy === null || !database.isOpen()) return;
  if (!(await secondCopy.isTakenOver())) return;
  await secondCopy.copied();
  if (!(await secondCopy.isWhole())) await copyInWorker("fill");
}
