import type { ReactNode } from "react";
import { ReedpathDatabase } from "../store/database.ts";
import { UpgradeBlocked, UpgradeStopped, Upgrading } from "./upgrade-notes.tsx";

/** The database engine to open; the browser's own if left out. */
type Engine = ConstructorParameters<typeof ReedpathDatabase>[0];

/**
 * Opens the database. An older history is brought up to this version first: the player sees how far that is and may stop it, which
 * leaves everything as the older version kept it, and go on whenever he wants.
 *
 * @param show puts something into the window that is otherwise empty
 * @returns the database; where it cannot be opened, closed: whoever reads it is told why
 */
export async function openedDatabase(
  show: (content: ReactNode) => void,
  engine?: Engine,
): Promise<ReedpathDatabase> {
  for (;;) {
    const stop = new AbortController();
    const onProgress = (share: number) => show(<Upgrading share={share} onStop={() => stop.abort()} />);
    const database = new ReedpathDatabase(engine, { onProgress, signal: stop.signal });
    database.on("blocked", () => show(<UpgradeBlocked />));
    await database.open().catch(() => {});
    // Stopped too late, it is done.
    if (!stop.signal.aborted || database.isOpen()) return database;
    database.close();
    await new Promise<void>((goOn) => show(<UpgradeStopped onGoOn={goOn} />));
  }
}
