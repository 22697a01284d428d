import { noteName } from "../pitch/note-names.ts";
import type { Milliseconds } from "../units.ts";
import type { ExtraNote, Fault, Mark, Tolerances } from "./attempt.ts";

/**
 * What went wrong, in the order it was played.
 *
 * Timing faults are counted against the player's own middle: someone who plays everything 50 ms late has a bias, told
 * once in the summary, not a fault on every note.
 */
export function listFaults(
  marks: readonly Mark[],
  extras: readonly ExtraNote[],
  tolerances: Tolerances,
): readonly Fault[] {
  const usual = median(marks.flatMap((mark) => (mark.ms === null ? [] : [mark.ms])));
  return [...marks.flatMap((mark) => noteFaults(mark, usual, tolerances)), ...extras.map(extraFault)].sort(
    (a, b) => a.index - b.index,
  );
}

function noteFaults(mark: Mark, usualMs: number, tolerances: Tolerances): readonly Fault[] {
  const where = `note ${mark.index + 1} (${mark.tab})`;
  const faults: Fault[] = [];
  const add = (kind: Fault["kind"], words: string) =>
    faults.push({ kind, index: mark.index, words: `${where}: ${words}` });
  if (mark.verdict === "missed") add("missed", "missed");
  if (mark.verdict === "wrong") add("wrong", `wrong note, ${heardInWords(mark.heardMidi, mark.heardAs)}`);
  if (mark.verdict === "hit" && mark.cents !== null && Math.abs(mark.cents) > tolerances.offCents) {
    const kind = mark.cents > 0 ? "sharp" : "flat";
    add(kind, `${Math.abs(mark.cents).toFixed(0)} cents ${kind}`);
  }
  if (mark.verdict === "hit" && mark.ms !== null && Math.abs(mark.ms - usualMs) > tolerances.onBeatMs) {
    const kind = mark.ms > usualMs ? "late" : "early";
    add(kind, offBeatInWords(mark.ms, usualMs as Milliseconds, kind));
  }
  return faults;
}

function offBeatInWords(ms: Milliseconds, usualMs: Milliseconds, kind: "late" | "early"): string {
  const apart = Math.abs(ms - usualMs).toFixed(0);
  const than = Math.abs(usualMs) < 10 ? "" : " than the rest";
  return than === "" ? `${apart} ms ${kind}` : `${apart} ms ${kind === "late" ? "later" : "earlier"}${than}`;
}

function extraFault(extra: ExtraNote): Fault {
  const place = extra.afterIndex < 0 ? "before the first note" : `after note ${extra.afterIndex + 1}`;
  return {
    kind: "extra",
    index: extra.afterIndex,
    words: `${place}: a note too many, ${heardInWords(extra.heardMidi, extra.heardAs)}`,
  };
}

function heardInWords(heard: Mark["heardMidi"], heardAs: readonly string[]): string {
  if (heard === null) return "its pitch could not be read";
  const reeds = heardAs.length === 0 ? "" : ` (${heardAs.join(" or ")})`;
  return `heard ${noteName(heard)}${reeds}`;
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  const upper = sorted[middle] ?? 0;
  return sorted.length % 2 === 1 ? upper : ((sorted[middle - 1] ?? upper) + upper) / 2;
}
