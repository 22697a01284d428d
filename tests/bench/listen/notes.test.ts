import { expect, it } from "vitest";
import { hzMidi, type Truth } from "./corpus/truth.ts";
import { matched, precisionRecall } from "./measures/matching.ts";
import { isNoteWithin, noteCounts } from "./measures/note-measures.ts";
import { summarise } from "./measures/summary.ts";
import { NO_SCORE } from "./measures/take-score.ts";

/** Onset, offset in seconds and pitch in Hz, as mir_eval's tests write notes. */
type Row = readonly [number, number, number];

const notesOf = (rows: readonly Row[]) =>
  rows.map(([on, off, hz]) => ({ on, off, midi: hzMidi(hz), cents: 0 }));
const truthOf = (rows: readonly Row[]): Truth => ({
  name: "",
  group: "",
  notes: notesOf(rows),
  f0: [],
  voiced: [],
});
const scoresOf = (truth: readonly Row[], heard: readonly Row[]) => {
  const notes = noteCounts(truthOf(truth), { frames: [], notes: notesOf(heard) });
  return summarise({ ...NO_SCORE, notes });
};

// [X] mir_eval, tests/test_transcription.py at commit 6b3c6dc: REF, EST, and what it expects without offsets.
const REF: readonly Row[] = [
  [0.1, 0.3, 220],
  [0.3, 0.4, 246.942],
  [0.5, 0.6, 277.183],
  [0.55, 0.65, 293.665],
];
const EST: readonly Row[] = [
  [0.12, 0.29, 225],
  [0.3, 0.34, 246.942],
  [0.5, 0.6, 500],
  [0.55, 0.6, 293.665],
  [0.56, 0.65, 293.665],
];

it("notes are counted as in mir_eval's worked example, by onset and pitch", () => {
  // [X] Precision_no_offset 0.6, Recall_no_offset 0.75, F-measure_no_offset 0.6666666666666665
  const { precision, recall, f1 } = scoresOf(REF, EST).note50;
  expect(precision).toBe(0.6);
  expect(recall).toBe(0.75);
  expect(f1).toBeCloseTo(2 / 3, 12);
});

it("notes are counted as in mir_eval's worked example, by onset alone", () => {
  // [X] Onset_Precision 0.8, Onset_Recall 1.0, Onset_F-measure 0.8888888888888889
  const { precision, recall, f1 } = scoresOf(REF, EST).onset50;
  expect(precision).toBe(0.8);
  expect(recall).toBe(1);
  expect(f1).toBeCloseTo(8 / 9, 12);
});

it("a note exactly 50 ms late is in time, one later by a tenth of a millisecond more is not", () => {
  // [X] mir_eval.transcription: distances are rounded to 4 decimals (N_DECIMALS), so that exactly 50 ms counts as within.
  // 0.35 - 0.3 is 0.04999999999999999 and 1.1 - 1.05 is 0.050000000000000044: both are 50 ms.
  expect(scoresOf([[0.3, 1, 440]], [[0.35, 1, 440]]).note50.f1).toBe(1);
  expect(scoresOf([[1.05, 2, 440]], [[1.1, 2, 440]]).note50.f1).toBe(1);
  expect(scoresOf([[1.05, 2, 440]], [[1.1001, 2, 440]]).note50.f1).toBe(0);
  expect(scoresOf([[1.05, 2, 440]], [[0.9999, 2, 440]]).note50.f1).toBe(0);
});

it("a note exactly 25 ms early counts at 25 ms too, one earlier counts at 50 ms only", () => {
  expect(scoresOf([[1, 2, 440]], [[0.975, 2, 440]]).note25.f1).toBe(1);
  const earlier = scoresOf([[1, 2, 440]], [[0.974, 2, 440]]);
  expect(earlier.note25.f1).toBe(0);
  expect(earlier.note50.f1).toBe(1);
});

it("a note exactly 50 cents off is the right note, one a thousandth of a cent further is not", () => {
  // [X] mir_eval.transcription.match_notes: pitch distance <= pitch_tolerance, 50 cents, unless `strict`.
  const fits = isNoteWithin(0.05);
  const note = { on: 1, off: 2, midi: 69, cents: 0 };
  expect(fits(note, { ...note, cents: 50 })).toBe(true);
  expect(fits(note, { ...note, midi: 68, cents: 50 })).toBe(true);
  expect(fits(note, { ...note, cents: 50.001 })).toBe(false);
  expect(fits(note, { ...note, midi: 68, cents: 49.999 })).toBe(false);
});

it("an onset without a pitch is never a right note", () => {
  const notes = noteCounts(truthOf([[1, 2, 440]]), { frames: [], notes: [{ on: 1, off: 2, midi: 0 }] });
  expect([notes.onsets50, notes.notes50]).toEqual([1, 0]);
});

it("without notes on one side every score is 0", () => {
  // [X] mir_eval, tests/test_transcription.py, test_precision_recall_f1_overlap_empty: (0, 0, 0) both ways round
  const zero = { precision: 0, recall: 0, f1: 0 };
  expect(precisionRecall(0, 0, 1)).toEqual(zero);
  expect(precisionRecall(0, 1, 0)).toEqual(zero);
});

it("as many pairs are found as there can be, where the nearest choice would find fewer", () => {
  // [X] mir_eval, tests/test_util.py, test_bipartite_match: v0 fits u0..u9, v1 u0..u8, …, v9 u0 alone; all ten u are matched.
  const references = Array.from({ length: 11 }, (_, v) => v);
  const estimates = Array.from({ length: 10 }, (_, u) => u);
  const fits = (v: number, u: number) => v < 10 - u;
  const partner = matched(references, estimates, fits);
  expect(new Set(partner).size).toBe(10);
  for (const [u, v] of partner.entries()) expect(fits(v, u)).toBe(true);
});
