import type { Summary } from "../../score/attempt.ts";
import { readTempoSign } from "../../tune/tempo.ts";
import { tellingNotes } from "../counts/measured.ts";
import type { TuneTry } from "./repertoire-status.ts";

/** What of an attempt says how a rung went. */
export interface RungAttempt {
  /** As the exercise has it; absent for one that is no rung. */
  readonly rung?: string;
  readonly summary: Pick<Summary, "notes" | "timing">;
  /** "♩ = 90". */
  readonly tempo: string;
  /** "The tune's title, A 1–4". */
  readonly title: string;
  readonly atEpochMs: number;
}

/** The attempt at a rung; null for one at no rung, at a tempo that cannot be read, or of which too little could be judged. */
export function tuneTry({ rung, summary, tempo, title, atEpochMs }: RungAttempt): TuneTry | null {
  const played = readTempoSign(tempo);
  if (rung === undefined || played === null) return null;
  const { notes, timing } = summary;
  const counted = tellingNotes(notes);
  if (counted === 0) return null;
  return {
    rung,
    rightShare: notes.hit / counted,
    spreadMs: timing.spreadMs,
    tempo: played,
    // What follows the last comma is the stretch.
    words: title.slice(title.lastIndexOf(", ") + 2),
    atEpochMs,
  };
}
