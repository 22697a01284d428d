import { useEffect } from "react";
import type { ProgressView } from "./progress-room.tsx";
import type { ProgressWork } from "./progress-work.ts";
import type { Room } from "./room.ts";

/** After so long in a room nobody is about to do the next thing at once, in milliseconds. */
const SETTLED_MS = 300;

/** While these are open something may be listened to: nothing else is worked at then. */
const PLAYED_IN: readonly Room["kind"][] = ["practice", "plan run", "sound check", "workshop"];

/**
 * Works out what the parts of Progress will ask, while nothing is played, so that they stand there once they are opened.
 *
 * @param version changes whenever the history does
 */
export function usePreparedProgress(
  work: ProgressWork,
  { trends, weakSpots }: ProgressView,
  room: Room["kind"],
  version: number,
): void {
  const isQuiet = !PLAYED_IN.includes(room);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the history changed where the version did
  useEffect(() => {
    if (!isQuiet) return;
    const timer = setTimeout(() => {
      if (work.known("weak spots", weakSpots) === null) work.ask("weak spots", weakSpots, () => {});
      if (work.known("trends", trends) === null) work.ask("trends", trends, () => {});
      if (work.known("minutes", null) === null) work.ask("minutes", null, () => {});
    }, SETTLED_MS);
    return () => clearTimeout(timer);
  }, [work, trends, weakSpots, isQuiet, version]);
}
