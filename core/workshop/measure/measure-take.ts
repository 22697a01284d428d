import type { Harp } from "../../instrument/harp.ts";
import type { HeardNote, Listening } from "../../listen/listening.ts";
import type { Midi, Seconds } from "../../units.ts";
import { AGREE_CENTS, READINGS_WANTED } from "./agreement.ts";
import { targetMidiOf } from "./harp-sounds.ts";
import { emptyMeasurement, type MeasuredReed, type ReedMeasurement } from "./measurement.ts";
import { type PlacedNote, placeNotes, type WalkedNote, wholeShiftCents } from "./reed-order.ts";
import {
  isReading,
  type ReedPlace,
  type ReedReading,
  readingOf,
  samePlace,
  type Unfit,
} from "./reed-reading.ts";
import { type HarpDoubt, harpDoubt } from "./right-harp.ts";
import { OWN_CENTS } from "./walk.ts";

/** A note of the recording that counts for no reed. */
export interface LeftOutNote {
  readonly onSeconds: Seconds;
  /** Fractional, A4 = 440 Hz; null where no pitch was read. */
  readonly midi: Midi | null;
  readonly why: Unfit | "no reed of this harp" | "either of two reeds";
}

/** Notes that may be either of two reeds: the recording cannot tell which. */
export interface UnsureReed {
  readonly place: ReedPlace;
  readonly orElse: ReedPlace;
}

/** What a recording of a walk tells. */
export interface MeasuredTake {
  readonly measurement: ReedMeasurement;
  /** Reeds of which no note that counts was heard. */
  readonly missing: readonly ReedPlace[];
  readonly leftOut: readonly LeftOutNote[];
  readonly unsure: readonly UnsureReed[];
  /** That the recording is likely one of another harp; null where nothing says so. */
  readonly doubt: HarpDoubt | null;
}

interface PitchedNote extends HeardNote {
  readonly pitchMidi: Midi;
}

const hasPitch = (note: HeardNote): note is PitchedNote => note.pitchMidi !== null;

/**
 * Measures the reeds from a recording of the walk: reeds in their order, or in another as far as that can be told, repeated or left
 * out. A reed sounded again later counts with all its notes.
 *
 * @param harp      as it is meant to be tuned
 * @param listening to the recording, best with the harp known
 */
export function measureTake(harp: Harp, listening: Listening): MeasuredTake {
  const pitched = listening.notes.filter(hasPitch);
  const walked = pitched.map((note) => ({ midi: note.pitchMidi }));
  const shift = wholeShiftCents(harp, walked);
  const usual = usualNotes(pitched);
  const placed = placeNotes(harp, walked, usual, shift);
  const sure = withoutLoneFar(harp, walked, placed, shift);
  const heard = pitched.map((note, n) => ({ note, placed: sure[n] ?? NOWHERE, read: readingOf(note) }));
  const empty = emptyMeasurement(harp, "recording");
  const reeds = empty.reeds.map((reed): MeasuredReed => {
    const readings = heard.flatMap(({ placed: { place, orElse }, read }) =>
      place !== null && orElse === null && samePlace(place, reed) && isReading(read) ? [read] : [],
    );
    return readings.length === 0 ? reed : { ...reed, readings, outcome: "measured" };
  });
  const leftOut = [
    ...listening.notes.flatMap((note) => (hasPitch(note) ? [] : unpitched(note))),
    ...heard.flatMap(({ note, placed, read }): LeftOutNote[] => {
      const why = whyLeftOut(placed, read);
      return why === null ? [] : [{ onSeconds: note.onSeconds, midi: note.pitchMidi, why }];
    }),
  ];
  return {
    measurement: { ...empty, reeds },
    missing: reeds
      .filter((reed) => reed.outcome !== "measured")
      .map(({ hole, breath }) => ({ hole, breath })),
    leftOut: leftOut.sort((a, b) => a.onSeconds - b.onSeconds),
    unsure: unsureReeds(heard.map((one) => one.placed)),
    doubt: harpDoubt(harp, walked, usual),
  };
}

/** One note far off may be a bend or a slip; a reed that lies so is heard so twice. */
function withoutLoneFar(
  harp: Harp,
  notes: readonly WalkedNote[],
  placed: readonly PlacedNote[],
  shiftCents: number,
): readonly PlacedNote[] {
  const isFar = (place: ReedPlace, note: WalkedNote | undefined) =>
    Math.abs(100 * ((note?.midi ?? 0) - targetMidiOf(harp, place)) - shiftCents) > OWN_CENTS;
  return placed.map((one, n) => {
    const { place } = one;
    if (place === null || !isFar(place, notes[n])) return one;
    const alike = placed.filter(
      (other, m) => other.place !== null && samePlace(other.place, place) && isFar(place, notes[m]),
    );
    return alike.length > 1 ? one : NOWHERE;
  });
}

function whyLeftOut({ place, orElse }: PlacedNote, read: ReedReading | Unfit): LeftOutNote["why"] | null {
  if (place === null) return "no reed of this harp";
  if (!isReading(read)) return read;
  return orElse === null ? null : "either of two reeds";
}

const NOWHERE = { place: null, orElse: null } as const;

function unpitched(note: HeardNote): LeftOutNote[] {
  const read = readingOf(note);
  return isReading(read) ? [] : [{ onSeconds: note.onSeconds, midi: null, why: read }];
}

/** Each pair once, in the order it comes up. */
function unsureReeds(placed: readonly PlacedNote[]): readonly UnsureReed[] {
  const found: UnsureReed[] = [];
  for (const { place, orElse } of placed) {
    if (place === null || orElse === null) continue;
    const known = found.some(
      (one) =>
        (samePlace(one.place, place) && samePlace(one.orElse, orElse)) ||
        (samePlace(one.place, orElse) && samePlace(one.orElse, place)),
    );
    if (!known) found.push({ place, orElse });
  }
  return found;
}

/** How many notes of a reed the player made: the commonest number of neighbours that agree; as asked for where there is none. */
function usualNotes(notes: readonly PitchedNote[]): number {
  const lengths = new Map<number, number>();
  let run = 0;
  notes.forEach((note, n) => {
    run++;
    const next = notes[n + 1];
    const goesOn = next !== undefined && Math.abs(next.pitchMidi - note.pitchMidi) * 100 <= 2 * AGREE_CENTS;
    if (goesOn) return;
    lengths.set(run, (lengths.get(run) ?? 0) + 1);
    run = 0;
  });
  const [commonest] = [...lengths].sort(([, a], [, b]) => b - a)[0] ?? [READINGS_WANTED];
  return commonest;
}
