import type { Exercise } from "../exercise/exercise.ts";
import { spellingOf } from "../pitch/modes.ts";
import { noteName } from "../pitch/note-names.ts";
import type { ExtraNote, Fault } from "./attempt.ts";
import { type Mark, type Tolerances, withinTolerance } from "./mark.ts";
import { fitLine, median } from "./statistics.ts";
import { placeInBeat } from "./timing-summary.ts";

/**
 * What went wrong, in the order it was played.
 *
 * Timing faults are counted against the player's own course: someone who plays everything 50 ms late has a bias, someone
 * who drags or swings less than asked has a tempo or a swing, each told once in the summary, not a fault on every note.
 */
export function listFaults(
  exercise: Exercise,
  marks: readonly Mark[],
  extras: readonly ExtraNote[],
  tolerances: Tolerances,
): readonly Fault[] {
  const usual = usualMs(exercise, marks);
  const spelling = spellingOf(exercise.home, exercise.mode);
  return [
    ...marks.flatMap((mark) => noteFaults(mark, usual(mark), tolerances, spelling)),
    ...extras.map((extra) => extraFault(extra, spelling)),
  ].sort((a, b) => a.index - b.index);
}

/** The milliseconds a mark would have if it came like the rest: the middle, or a steady drag, and the usual swing. */
export function usualMs(exercise: Exercise, marks: readonly Mark[]): (mark: Mark) => number {
  const timed = marks.filter((mark) => mark.ms !== null);
  const middle = median(timed.map((mark) => mark.ms ?? 0)) ?? 0;
  const drag = steadyDrag(exercise, timed, middle);
  const { rhythm } = exercise;
  if (rhythm === undefined || rhythm.kind === "even") return drag;
  const groups = new Map<number, number[]>();
  for (const mark of timed) {
    const place = placeInBeat(exercise, mark.index);
    groups.set(place, [...(groups.get(place) ?? []), (mark.ms ?? 0) - drag(mark)]);
  }
  return (mark) => drag(mark) + (median(groups.get(placeInBeat(exercise, mark.index)) ?? []) ?? 0);
}

/** Fewer notes may lie on a line by chance. */
const LEAST_NOTES_FOR_DRAG = 8;
/** A note this far off the middle has come off the beat and tells no tempo. */
const STRAY_MS = 3;

/** A straight line through the notes that came neither early nor late against it. */
function steadyDrag(exercise: Exercise, timed: readonly Mark[], middle: number): (mark: Mark) => number {
  const at = (mark: Mark) => exercise.notes[mark.index]?.startBeats ?? 0;
  let line = (_: Mark) => middle;
  if (timed.length < LEAST_NOTES_FOR_DRAG) return line;
  for (let round = 0; round < 4; round++) {
    const off = timed.map((mark) => Math.abs((mark.ms ?? 0) - line(mark)));
    const limit = STRAY_MS * Math.max(5, median(off) ?? 0);
    const near = timed.filter((_, place) => (off[place] ?? 0) <= limit);
    const fit = fitLine(near.map((mark) => ({ x: at(mark), y: mark.ms ?? 0 })));
    if (fit === null) return line;
    line = (mark) => fit.middleY + fit.slope * (at(mark) - fit.middleX);
  }
  return line;
}

function noteFaults(
  mark: Mark,
  usual: number,
  tolerances: Tolerances,
  spelling: readonly string[],
): readonly Fault[] {
  const where = `note ${mark.index + 1} (${mark.tab})`;
  const faults: Fault[] = [];
  const add = (kind: Fault["kind"], words: string) =>
    faults.push({ kind, index: mark.index, words: `${where}: ${words}` });
  if (mark.verdict === "missed") add("missed", "missed");
  if (mark.verdict === "wrong")
    add("wrong", `wrong ${mark.chord === undefined ? "note" : "holes"}, ${wrongInWords(mark, spelling)}`);
  if (mark.intonation === "sharp" || mark.intonation === "flat") {
    const cents = `${Math.abs(mark.cents ?? 0).toFixed(0)} cents ${mark.intonation}`;
    const bend = mark.diagnosis?.kind === "bend too shallow" || mark.diagnosis?.kind === "bend too deep";
    add(mark.intonation, bend ? `${cents}, ${mark.diagnosis?.kind}` : cents);
  }
  const late = offBeat(mark, usual, tolerances);
  if (late !== null) add(late, offBeatInWords((mark.ms ?? 0) - usual, usual));
  return faults;
}

/** Whether a right note came off the player's own course by more than the tolerance and what its onset may be off by. */
export function offBeat(mark: Mark, usual: number, tolerances: Tolerances): "early" | "late" | null {
  if (mark.verdict !== "hit" || mark.ms === null) return null;
  const off = mark.ms - usual;
  if (off < 0) return withinTolerance(off, tolerances.onBeatMs) ? null : "early";
  return withinTolerance(Math.max(0, off - mark.msUncertain), tolerances.onBeatMs) ? null : "late";
}

function offBeatInWords(offMs: number, usual: number): string {
  const apart = Math.abs(offMs).toFixed(0);
  const kind = offMs > 0 ? "late" : "early";
  return Math.abs(usual) < 10
    ? `${apart} ms ${kind}`
    : `${apart} ms ${kind === "late" ? "later" : "earlier"} than the rest`;
}

function wrongInWords(mark: Mark, spelling: readonly string[]): string {
  const heard =
    mark.chord === undefined
      ? heardInWords(mark.heardMidi, mark.heardAs, spelling)
      : `heard ${mark.heardAs.join(" or ")}`;
  return mark.diagnosis === null || mark.diagnosis.kind === "unknown"
    ? heard
    : `${heard}: ${mark.diagnosis.kind}`;
}

function extraFault(extra: ExtraNote, spelling: readonly string[]): Fault {
  const place = extra.afterIndex < 0 ? "before the first note" : `after note ${extra.afterIndex + 1}`;
  return {
    kind: "extra",
    index: extra.afterIndex,
    words: `${place}: a note too many, ${heardInWords(extra.heardMidi, extra.heardAs, spelling)}`,
  };
}

function heardInWords(
  heard: Mark["heardMidi"],
  heardAs: readonly string[],
  spelling: readonly string[],
): string {
  if (heard === null) return "its pitch could not be read";
  const reeds = heardAs.length === 0 ? "" : ` (${heardAs.join(" or ")})`;
  return `heard ${noteName(heard, spelling)}${reeds}`;
}
