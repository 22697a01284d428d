import { useSyncExternalStore } from "react";
import { isBusy } from "../practice/practice-state.ts";
import type { Room } from "./room.ts";

const never = () => () => {};

/** True while the sheet opens, sounds, records or marks. */
export function useIsPlaying(room: Room): boolean {
  const session = room.kind === "practice" ? room.session : null;
  return useSyncExternalStore(
    session?.subscribe ?? never,
    () => session !== null && isBusy(session.getState()),
  );
}
