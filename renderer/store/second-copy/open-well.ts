import type { ReedpathDatabase } from "../database.ts";
import { ENGINE, renewLog } from "./engine-log.ts";

/**
 * What is to be done with an opened database before anything is written: where the program was killed, both logs may have a torn
 * end. The copy is written only once the database has a new log and lacks nothing that the copy holds: so one of the two stays
 * whole whenever the program is killed again.
 *
 * @param bringBack brings back what the database lacks, and writes nothing to the copy
 */
export async function openWell(database: ReedpathDatabase, bringBack: () => Promise<unknown>): Promise<void> {
  const { secondCopy, engine } = database;
  if (secondCopy === null) return;
  const [isTakenOver, isAlone, open] = await Promise.all([
    secondCopy.isTakenOver(),
    secondCopy.isAlone(),
    engine.get("open"),
  ]);
  const isNew = !isTakenOver;
  // An earlier version noted no end. Where another window is open, the engine is at work since that one was opened.
  const mayBeTorn = isNew ? !database.wasMade : open !== undefined;
  const wasKilled = isAlone && mayBeTorn;
  if (wasKilled) await renewLog(engine);
  // Before it is taken over: killed in between, it would otherwise be held to have been closed.
  await engine.put({ id: "open" });
  if (isNew) await bringBack();
  if (isNew || wasKilled) secondCopy.renewLogFirst();
}

/** Notes that the program is closed and not killed. Nothing can be waited for there: the transaction is committed at once. */
export function closeWell(database: ReedpathDatabase): void {
  if (database.secondCopy === null || !database.isOpen()) return;
  try {
    const closing = database.backendDB().transaction(ENGINE, "readwrite");
    closing.objectStore(ENGINE).delete("open");
    closing.commit();
  } catch {
    // Then it is opened the next time as after a kill.
  }
}
