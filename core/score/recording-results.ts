import type { Attempt } from "./attempt.ts";
import type { Field } from "./csv.ts";

/** What is told of a marked recording in one row; without the marks, of which hundreds of recordings would be much. */
export type Told = Pick<Attempt, "title" | "way" | "take" | "summary" | "advice">;

/** What became of one recording of many. */
export type RecordingResult =
  | { readonly kind: "marked"; readonly name: string; readonly told: Told }
  /** `reason` is the end of a sentence, in one line. */
  | { readonly kind: "not marked"; readonly name: string; readonly reason: string };

/** What a table of many keeps of an attempt. */
export function toldOf({ title, way, take, summary, advice }: Attempt): Told {
  return { title, way, take, summary, advice };
}

type Column = readonly [heading: string, field: (told: Told) => Field];

const tenths = (value: number | null): Field => (value === null ? null : Math.round(10 * value) / 10 + 0);
const percent = (share: number | null): Field => tenths(share === null ? null : 100 * share);
const advice =
  (place: number) =>
  (told: Told): Field =>
    told.advice[place]?.words ?? null;

const COLUMNS: readonly Column[] = [
  ["exercise", ({ title }) => title],
  ["way", ({ way }) => way],
  ["notes asked for", ({ summary }) => summary.notes.expected],
  ["right", ({ summary }) => summary.notes.hit],
  ["wrong", ({ summary }) => summary.notes.wrong],
  ["missed", ({ summary }) => summary.notes.missed],
  ["too many", ({ summary }) => summary.notes.extra],
  ["not measured", ({ summary }) => summary.notes.notMeasured],
  ["intonation bias (cents; sharp +)", ({ summary }) => tenths(summary.intonation.biasCents)],
  ["intonation spread (cents)", ({ summary }) => tenths(summary.intonation.spreadCents)],
  ["bent notes' bias (cents; sharp +)", ({ summary }) => tenths(summary.intonation.bends?.biasCents ?? null)],
  ["timing bias (ms; late +)", ({ summary }) => tenths(summary.timing.biasMs)],
  ["timing spread (ms)", ({ summary }) => tenths(summary.timing.spreadMs)],
  ["unevenness (ms)", ({ summary }) => tenths(summary.timing.evennessMs)],
  ["unevenness (% of the notes' lengths)", ({ summary }) => percent(summary.timing.evennessShare)],
  ["tempo (% of the one asked for)", ({ summary }) => percent(summary.timing.tempoRatio)],
  ["held: drift (cents)", ({ summary }) => tenths(summary.hold?.driftCents ?? null)],
  ["held: unsteadiness (cents)", ({ summary }) => tenths(summary.hold?.steadinessCents ?? null)],
  ["cost most", advice(0)],
  ["cost second", advice(1)],
  ["cost third", advice(2)],
  ["recording lasts (s)", ({ take }) => tenths(take.durationSeconds)],
];

/** What is told of an attempt in one row: headings with units, the exercise first. */
export const TOLD_HEADINGS: readonly string[] = COLUMNS.map(([heading]) => heading);

/** The row under `TOLD_HEADINGS`. */
export const toldFields = (told: Told): readonly Field[] => COLUMNS.map(([, field]) => field(told));

/**
 * Many recordings as a table for other programs: a heading row with units, a row for each recording in the order given.
 * Cents, milliseconds, seconds and per cent to a tenth; what does not apply is null.
 */
export function resultsTable(results: readonly RecordingResult[]): readonly (readonly Field[])[] {
  return [
    ["recording", ...TOLD_HEADINGS, "not marked because"],
    ...results.map((result) => [
      result.name,
      ...(result.kind === "marked" ? toldFields(result.told) : TOLD_HEADINGS.map(() => null)),
      result.kind === "marked" ? null : result.reason,
    ]),
  ];
}
