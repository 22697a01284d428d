import { describe, expect, test } from "vitest";
import { countInSeconds } from "../../../core/exercise/exercise.ts";
import { align } from "../../../core/score/align.ts";
import { isRight, type Played, type Written } from "../../../core/score/align-costs.ts";
import { USUAL_TOLERANCES } from "../../../core/score/attempt.ts";
import { scoreTake, USUAL_SETTINGS } from "../../../core/score/score-take.ts";
import { cents, midi, milliseconds } from "../../../core/units.ts";
import { exerciseOf } from "../../support/drills.ts";
import { listeningOf } from "../../support/listenings.ts";
import { playNotes } from "../../support/players.ts";

/**
 * [X] mir_eval 0.8, tests/test_transcription.py: REF and EST as printed (onset and offset in seconds, Hz), and of
 * SCORES those without offsets. Its own test pairs reference and estimate so: (0, 0), (1, 1), (3, 3).
 */
const REF = [
  [0.1, 0.3, 220.0],
  [0.3, 0.4, 246.942],
  [0.5, 0.6, 277.183],
  [0.55, 0.65, 293.665],
] as const;
const EST = [
  [0.12, 0.29, 225.0],
  [0.3, 0.34, 246.942],
  [0.5, 0.6, 500.0],
  [0.55, 0.6, 293.665],
  [0.56, 0.65, 293.665],
] as const;
const PAIRS = [
  [0, 0],
  [1, 1],
  [3, 3],
];
const PRECISION_NO_OFFSET = 0.6;
const RECALL_NO_OFFSET = 0.75;
/** match_note_onsets of the same arrays, by its test: every note of the reference finds one. */
const ONSET_RECALL = 1.0;

const midiOf = (hz: number) => 69 + 12 * Math.log2(hz / 440);
const written = REF.map(
  ([on, off, hz], n): Written => ({
    onSeconds: on,
    lengthSeconds: off - on,
    midi: midiOf(hz),
    startsBar: n === 0,
  }),
);
const played = EST.map(
  ([on, , hz]): Played => ({ onSeconds: on, midi: midiOf(hz), aloneCost: 1, short: false }),
);

describe("matching as a published evaluation does it", () => {
  const path = align(written, played, { rightNoteCents: 50, startSeconds: 0, stretch: 1 });
  const right = path.filter((visit) => {
    const [asked, heard] = [written[visit.written], played[visit.played]];
    return asked !== undefined && heard !== undefined && isRight(asked, heard, 50);
  });

  test("the right notes of mir_eval's example pair as printed there", () => {
    expect(right.map((visit) => [visit.written, visit.played])).toEqual(PAIRS);
    expect(right.length / EST.length).toBeCloseTo(PRECISION_NO_OFFSET, 12);
    expect(right.length / REF.length).toBeCloseTo(RECALL_NO_OFFSET, 12);
  });

  test("its wrong note at 500 Hz answers the note on that onset", () => {
    expect(path.length / REF.length).toBe(ONSET_RECALL);
    expect(path).toContainEqual({ written: 2, played: 2 });
  });
});

describe("distances of exactly a tolerance are inside, as mir_eval's <= has it [F 50]", () => {
  const exercise = exerciseOf();
  const settings = {
    ...USUAL_SETTINGS,
    beatZeroSeconds: countInSeconds(exercise),
    tolerances: { ...USUAL_TOLERANCES, onBeatMs: milliseconds(50), rightNoteCents: cents(50) },
  };
  const late = (byMs: number) =>
    scoreTake(
      exercise,
      listeningOf(playNotes(exercise, { fromSeconds: countInSeconds(exercise) + byMs / 1000 })),
      settings,
    ).marks;
  const fifthSharp = (byCents: number) =>
    scoreTake(
      exercise,
      listeningOf(
        playNotes(exercise).map((note, n) =>
          n === 4 ? { ...note, pitchMidi: midi(Number(note.pitchMidi) + byCents / 100) } : note,
        ),
      ),
      settings,
    ).marks[4];

  test.each([50, -50])("%d ms from the beat is on it, %d ms and a tenth is not", (ms) => {
    expect(late(ms).every((mark) => mark.timing === "on the beat")).toBe(true);
    expect(late(ms * 1.002).some((mark) => mark.timing === "on the beat")).toBe(false);
  });

  test.each([50, -50])("%d cents from the target is the note, a tenth of a cent more is not", (off) => {
    expect(fifthSharp(off)?.verdict).toBe("hit");
    expect(fifthSharp(off * 1.002)?.verdict).toBe("wrong");
  });
});
