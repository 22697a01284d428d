import type { Space, Verified } from "../store/history-store.ts";
import { bytesInWords } from "../ui/bytes.ts";
import type { Keeping, Persistence } from "./keeping.ts";

const counted = (count: number, one: string, several: string) =>
  `${count.toLocaleString("en")} ${count === 1 ? one : several}`;

/** "312 takes, 96 MB. 40 attempts have no take any more." */
export function takesInWords({ takes, takeBytes, withoutTake }: Space): string {
  const kept = takes === 0 ? "No takes." : `${counted(takes, "take", "takes")}, ${bytesInWords(takeBytes)}.`;
  return withoutTake === 0
    ? kept
    : `${kept} ${counted(withoutTake, "attempt has", "attempts have")} no take; the marks are all there.`;
}

/** What the browser says of all it keeps for the program; null where it says nothing. */
export function roomInWords({ usedBytes, quotaBytes }: Space): string | null {
  if (usedBytes === null) return null;
  const used = `Together with everything else ${bytesInWords(usedBytes)}`;
  return quotaBytes === null ? `${used}.` : `${used}, of ${bytesInWords(quotaBytes)} there is room for.`;
}

/** What goes beyond the room for takes; null where nothing does. */
export function beyondInWords({ takeBytes }: Space, limitMb: number): string | null {
  const beyond = takeBytes - limitMb * 1e6;
  return beyond <= 0
    ? null
    : `${bytesInWords(beyond)} more than that: the oldest go with the next take you keep.`;
}

export const PERSISTENCE_WORDS: Readonly<Record<Persistence, string>> = {
  promised: "The browser keeps all of it until you delete it.",
  "not promised": "If the disk is nearly full, the browser may delete all of it.",
  refused: "The browser does not promise to keep it. If the disk is nearly full, it may delete all of it.",
  "own folder": "It is kept in a folder of the program's own.",
  unknown: "This browser does not say how long it keeps it.",
};

export const COPY_WORDS: Readonly<Record<NonNullable<Keeping["copy"]>, string>> = {
  whole:
    "A second copy of everything lies in other files: if the first is damaged, it comes back by itself. It needs as much room again.",
  "being made": "A second copy of everything is being made, in other files.",
  behind: "The second copy cannot be written at present; what it lacks is copied when it can.",
  none: "This browser has no place for a second copy: save an archive now and then.",
};

/** What the check found and did. */
export function verifiedInWords({ attempts, unreadable, different, repaired }: Verified): string {
  const found =
    different === 0
      ? "everything agrees."
      : `${counted(different, "difference", "differences")}, ${repaired ? "put right." : "not put right."}`;
  const newer =
    unreadable === 0
      ? ""
      : ` ${counted(unreadable, "attempt was", "attempts were")} marked by a newer version of the program: in the list, and counted nowhere else.`;
  return `${counted(attempts, "attempt", "attempts")} counted anew: ${found}${newer}`;
}
