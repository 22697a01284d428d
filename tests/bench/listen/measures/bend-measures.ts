import { centsBetween, midiHz, type TrueNote, type Truth } from "../corpus/truth.ts";
import type { Answer } from "../engines/answer.ts";
import { median } from "./statistics.ts";

/** Errors of measured bends, cents. */
export interface BendErrors {
  readonly cents: readonly number[];
  /** Bends over 50 cents off or not heard. */
  readonly gross: number;
}

/** Cents of a played note from its key, by the engine; null if it was not heard. */
type Reading = (note: TrueNote) => number | null;

const key = ({ midi }: TrueNote) => midi;

/**
 * On recorded samples the absolute pitch is the samples' own tuning, so a bend is measured from the same engine's reading
 * of the unbent note of the same key.
 */
export function bendErrors(truth: Truth, answer: Answer, by: "notes" | "frames"): BendErrors {
  const read = by === "notes" ? noteReading(answer) : frameReading(answer);
  const unbent = new Map(
    truth.notes.filter(({ cents }) => cents === 0).map((note) => [key(note), read(note)]),
  );
  const cents: number[] = [];
  let gross = 0;
  for (const note of truth.notes.filter((one) => one.cents !== 0)) {
    const base = unbent.get(key(note)) ?? null;
    const reading = read(note);
    const error = base === null || reading === null ? Number.NaN : reading - base - note.cents;
    if (Math.abs(error) <= 50) cents.push(error);
    else gross++;
  }
  return { cents, gross };
}

/** By the first note that sounds a quarter of a second in: the middle of a bend. */
const noteReading =
  ({ notes }: Answer): Reading =>
  ({ on, midi }) => {
    const heard = notes.find((one) => one.on < on + 0.25 && one.off > on + 0.25);
    return heard === undefined ? null : (heard.midi - midi) * 100 + (heard.cents ?? 0);
  };

/** By the median of the frames between 35 and 85 % of the note; at least six. */
const frameReading =
  ({ frames }: Answer): Reading =>
  ({ on, off, midi }) => {
    const from = on + 0.35 * (off - on);
    const to = on + 0.85 * (off - on);
    const within = frames.filter(({ t, f0 }) => f0 !== 0 && t >= from && t <= to);
    if (within.length <= 5) return null;
    return median(within.map(({ f0 }) => centsBetween(Math.abs(f0), midiHz(midi))));
  };
