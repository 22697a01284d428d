import { isBusy } from "../practice/practice-state.ts";
import { useVerbs } from "../ui/use-verbs.tsx";
import type { Room, RoomName } from "./room.ts";

interface RoomKeysProps {
  readonly room: Room;
  readonly onEnter: (room: RoomName) => void;
  readonly onHelp: () => void;
}

/** One key to any room and to the help sheet; not in the middle of a take, which would be lost. */
export function RoomKeys({ room, onEnter, onHelp }: RoomKeysProps) {
  const unless = (act: () => void) => () => {
    if (!isPlaying(room)) act();
  };
  useVerbs({
    help: unless(onHelp),
    today: unless(() => onEnter("today")),
    drills: unless(() => onEnter("drills")),
    tunes: unless(() => onEnter("tunes")),
    instrument: unless(() => onEnter("instrument")),
    progress: unless(() => onEnter("progress")),
    "sound check": unless(() => onEnter("sound check")),
    settings: unless(() => onEnter("settings")),
    workshop: unless(() => onEnter("workshop")),
  });
  return null;
}

/** Whether a take or what goes with it is under way. */
function isPlaying(room: Room): boolean {
  if (room.kind === "practice") return isBusy(room.session.getState());
  const moment = room.kind === "plan run" ? room.run.getState().moment : null;
  return moment?.kind === "playing" && isBusy(moment.session.getState());
}
