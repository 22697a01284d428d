import { useCallback, useRef, useState } from "react";
import type { PracticeSession } from "../practice/practice-session.ts";
import type { Verb } from "../ui/keys.ts";
import type { PlanRun } from "./plan-run.ts";
import type { TuneRoom } from "./tune-rooms.tsx";

/** What is open. Several of them may belong to one room of the way between rooms. */
export type Room =
  | { readonly kind: "today" }
  | { readonly kind: "drills" }
  /** `held` is why the tempo goes no further, where the player tried. */
  | { readonly kind: "practice"; readonly session: PracticeSession; readonly held: string | null }
  | { readonly kind: "plan run"; readonly run: PlanRun }
  | { readonly kind: "instrument" }
  | { readonly kind: "harps" }
  | { readonly kind: "progress" }
  | { readonly kind: "sound check" }
  | { readonly kind: "settings" }
  | { readonly kind: "workshop" }
  | TuneRoom;

/** The rooms that can be entered from anywhere, in the order they stand in. */
export const ROOMS = [
  { verb: "today", name: "Today", holds: ["today", "plan run"] },
  { verb: "drills", name: "Drills", holds: ["drills"] },
  { verb: "tunes", name: "Tunes", holds: ["tunes", "tune", "write a tune", "set lists", "set list"] },
  { verb: "instrument", name: "Instrument", holds: ["instrument", "harps"] },
  { verb: "progress", name: "Progress", holds: ["progress"] },
  { verb: "sound check", name: "Sound check", holds: ["sound check"] },
  { verb: "settings", name: "Settings", holds: ["settings"] },
  { verb: "workshop", name: "Workshop", holds: ["workshop"] },
] as const satisfies readonly {
  readonly verb: Verb;
  readonly name: string;
  readonly holds: readonly Room["kind"][];
}[];

export type RoomName = (typeof ROOMS)[number]["verb"];

const TUNE_ROOMS: readonly Room["kind"][] = ROOMS.find(({ verb }) => verb === "tunes")?.holds ?? [];

export const isTuneRoom = (room: Room): room is TuneRoom => TUNE_ROOMS.includes(room.kind);

/** Whether the room may be listening to a take. */
export const isSheet = ({ kind }: Room): boolean => kind === "practice" || kind === "plan run";

/** The open room; leaving the sheet ends its session, or the plan being played, and with it the microphone. */
export function useRoom(): readonly [Room, (next: Room) => void] {
  const [room, setRoom] = useState<Room>({ kind: "today" });
  const open = useRef<Room>(room);
  const enter = useCallback((next: Room) => {
    if (open.current.kind === "practice") open.current.session.dispose();
    if (open.current.kind === "plan run") open.current.run.leave();
    open.current = next;
    setRoom(next);
  }, []);
  return [room, enter];
}
