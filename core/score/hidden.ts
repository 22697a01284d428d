import type { Listening } from "../listen/listening.ts";
import { median } from "./statistics.ts";

/** Notes less than this above the room may be missing from what was heard. */
const ABOVE_ROOM_DB = 6;
/** Where no note was heard, a quieter room than this would not have hidden one played at a usual distance. Both [P]. */
const LOUD_ROOM_DBFS = -35;
/** Softer notes than this end in the last steps of 16 bits. */
const QUIET_NOTES_DBFS = -65;
/** Share of the frames that surely hold a moment without a note. */
const QUIETEST_SHARE = 0.01;

/**
 * Why a note that was not heard may have been played all the same; null where a missing note is a missed one.
 *
 * The room is what the quietest moments of the take hold, hum and hiss alike.
 */
export function whyHidden(listening: Listening): string | null {
  const notes = median(
    listening.notes.flatMap(({ pitchMidi, levelDbfs }) => (pitchMidi === null ? [] : [levelDbfs])),
  );
  const room = roomDbfs(listening);
  if (notes === null) return room > LOUD_ROOM_DBFS ? "the room is too loud to hear a note" : null;
  if (room > LOUD_ROOM_DBFS && notes - room < ABOVE_ROOM_DB) return "the room is as loud as the notes";
  return notes < QUIET_NOTES_DBFS ? "the take is too quiet to hear every note" : null;
}

function roomDbfs({ frames, noiseFloorDbfs }: Listening): number {
  const levels = Float64Array.from(frames, ({ levelDbfs }) => levelDbfs).sort();
  return Math.max(noiseFloorDbfs, levels[Math.floor(QUIETEST_SHARE * levels.length)] ?? noiseFloorDbfs);
}
