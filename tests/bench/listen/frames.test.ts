import { expect, it } from "vitest";
import { HOP_SECONDS, midiHz, type TrueNote, type Truth } from "./corpus/truth.ts";
import type { Answer } from "./engines/answer.ts";
import { type Summary, summarise } from "./measures/summary.ts";
import { scoreAnswer } from "./measures/take-score.ts";

/** Truth of a few frames: pitches in Hz, 0 for silence. */
const framesOnly = (f0: readonly number[]): Truth => ({
  name: "",
  group: "",
  notes: [],
  f0,
  voiced: f0.map((hz) => (hz > 0 ? 1 : 0)),
});
const heard = (f0: readonly number[]): Answer => ({
  frames: f0.map((hz, i) => ({ t: i * HOP_SECONDS, f0: hz })),
  notes: [],
});
const five = (s: Summary) => [s.voicingRecall, s.voicingFalseAlarm, s.rawPitch50, s.rawChroma, s.overall];

// [X] mir_eval, tests/test_melody.py at commit 6b3c6dc, test_continuous_voicing_metrics: reference 440, 0, 220, 220 Hz.
const REFERENCE = framesOnly([440, 0, 220, 220]);

it("voicing, pitch and chroma are counted as in mir_eval's worked example with perfect voicing", () => {
  // [X] estimate 440.1, 330 unvoiced, 440, 330: recall 1, false alarm 0, raw pitch 1/3, raw chroma 2/3, overall 0.5
  const scores = summarise(scoreAnswer(REFERENCE, heard([440.1, -330, 440, 330])));
  expect(five(scores)).toEqual([1, 0, 1 / 3, 2 / 3, 0.5]);
});

it("voicing, pitch and chroma are counted as in mir_eval's worked example with all voicing wrong", () => {
  // [X] the same pitches, voiced only where nothing sounds: recall 0, false alarm 1, raw pitch 1/3, chroma 2/3, overall 0
  const scores = summarise(scoreAnswer(REFERENCE, heard([-440.1, 330, -440, -330])));
  expect(five(scores)).toEqual([0, 1, 1 / 3, 2 / 3, 0]);
});

it("a frame without any estimate is neither right nor voiced", () => {
  // [calc] one of two sounding frames is heard
  const scores = summarise(scoreAnswer(framesOnly([440, 440]), heard([440, 0])));
  expect([scores.rawPitch50, scores.rawChroma, scores.voicingRecall]).toEqual([0.5, 0.5, 0.5]);
});

/** Eight notes of 0.4 s a semitone apart, each with cents of its own. */
const NOTES: readonly TrueNote[] = Array.from({ length: 8 }, (_, n) => ({
  on: 1 + n * 0.5,
  off: 1.4 + n * 0.5,
  midi: 60 + n,
  cents: 3 * n - 10,
}));
const hzOf = ({ midi, cents }: TrueNote) => midiHz(midi) * 2 ** (cents / 1200);
const TONES: Truth = (() => {
  const sounding = Array.from({ length: 1100 }, (_, i) =>
    NOTES.find(({ on, off }) => i * HOP_SECONDS >= on && i * HOP_SECONDS < off),
  );
  return {
    name: "",
    group: "",
    notes: NOTES,
    f0: sounding.map((note) => (note === undefined ? 0 : hzOf(note))),
    voiced: sounding.map((note) => (note === undefined ? 0 : 1)),
  };
})();

/** What a listener says that knows the truth and is off by so much. */
function scoresOff(off: { cents?: number; lateSeconds?: number; everySecond?: boolean }): Summary {
  const { cents = 0, lateSeconds = 0, everySecond = false } = off;
  const frames = TONES.f0.map((hz, i) => ({ t: i * HOP_SECONDS, f0: hz * 2 ** (cents / 1200) }));
  const notes = NOTES.filter((_, n) => !everySecond || n % 2 === 1).map((note) => ({
    ...note,
    on: note.on + lateSeconds,
    cents: note.cents + cents,
  }));
  return summarise(scoreAnswer(TONES, { frames, notes, latencyMs: 0 }));
}

it("who hears tones of known pitch as they are has no error at all", () => {
  const s = scoresOff({});
  expect([s.rawPitch50, s.rawPitch10, s.rawPitch5, s.rawChroma, s.voicingRecall, s.overall]).toEqual(
    Array(6).fill(1),
  );
  expect([s.voicingFalseAlarm, s.gross, s.octaveUp, s.octaveDown]).toEqual([0, 0, 0, 0]);
  expect([s.steady, s.event]).toEqual(Array(2).fill({ median: 0, p95: 0, rms: 0 }));
  expect([s.onset50.f1, s.onset25.f1, s.note50.f1, s.note25.f1]).toEqual([1, 1, 1, 1]);
});

it("who hears everything 7 cents sharp is 7 cents off in every measure of cents", () => {
  const s = scoresOff({ cents: 7 });
  expect([s.rawPitch10, s.rawPitch5]).toEqual([1, 0]);
  for (const { median, p95, rms } of [s.steady, s.event]) {
    // a millionth of a cent: rounding of the logarithm
    for (const cents of [median, p95, rms]) expect(cents).toBeCloseTo(7, 6);
  }
});

it("who hears everything an octave low has every chroma right and every note gross", () => {
  const s = scoresOff({ cents: -1200 });
  expect([s.rawPitch50, s.rawChroma, s.octaveDown, s.octaveUp]).toEqual([0, 1, 1, 0]);
  expect([s.gross, s.note50.f1, s.onset50.f1]).toEqual([1, 0, 1]);
});

it("who hears every note 40 ms late is in time within 50 ms and not within 25", () => {
  const s = scoresOff({ lateSeconds: 0.04 });
  expect([s.note50.f1, s.note25.f1]).toEqual([1, 0]);
  expect(s.lateMs).toBeCloseTo(40, 9);
});

it("who names every second note has half the recall and full precision", () => {
  const { precision, recall } = scoresOff({ everySecond: true }).note50;
  expect([precision, recall]).toEqual([1, 0.5]);
});

it("the delay until a pitch is known runs to the third right frame and includes the engine's own", () => {
  // Frames lie on the onset and every 5 ms: the third comes 10 ms after it. [calc] 10 + 20 ms
  const frames = TONES.f0.map((hz, i) => ({ t: i * HOP_SECONDS, f0: hz }));
  const { delaysMs } = scoreAnswer(TONES, { frames, notes: [], latencyMs: 20 });
  expect(delaysMs).toHaveLength(NOTES.length);
  for (const delay of delaysMs) expect(delay).toBeCloseTo(30, 6);
});
