import { describe, expect, test } from "vitest";
import { staffLines } from "../../../core/exercise/exercise-abc.ts";
import { staffClef, staffOctaves, staffOctaveWords } from "../../../core/exercise/staff-octave.ts";
import { tuneExercise, usualRhythm } from "../../../core/exercise/tune-exercise.ts";
import { USUAL_RULE } from "../../../core/exercise/tune-ladder.ts";
import { planTune, type TunePlan } from "../../../core/exercise/tune-plan.ts";
import { tuneSheet } from "../../../core/exercise/tune-sheet.ts";
import { PLAIN_AND_BENDS } from "../../../core/instrument/reed-actions.ts";
import { FIRST_WEIGHTS } from "../../../core/path/weights.ts";
import { readAbc } from "../../../core/tune/abc/read-abc.ts";
import type { Tune } from "../../../core/tune/tune.ts";
import { midi, ticks } from "../../../core/units.ts";
import { harp } from "../../support/harps.ts";
import { readTune } from "../../support/tune-drills.ts";

const tune = readTune("X:1\nT:a reel of ours\nM:C|\nR:reel\nL:1/8\nK:D\nd2fd Adfd|gfed c2e2|");

function planAt(octaves: number): TunePlan {
  return planTune({
    tune,
    harps: [harp("D")],
    abilities: PLAIN_AND_BENDS,
    weights: FIRST_WEIGHTS,
    tempo: tune.tempo,
    octaves,
    pins: [],
    even: false,
    phraseBars: 4,
    phrases: null,
    rule: USUAL_RULE,
  });
}

function screenAt(octaves: number): string {
  const plan = planAt(octaves);
  const made = tuneExercise({
    tune,
    words: "whole tune",
    span: {
      startTicks: ticks(0),
      endTicks: tune.bars.reduce((end, bar) => ticks(end + bar.lengthTicks), ticks(0)),
    },
    harp: plan.harp,
    shift: plan.shift,
    actions: plan.path.actions,
    abilities: PLAIN_AND_BENDS,
    tempo: tune.tempo,
    rhythm: usualRhythm(1),
    countInBeats: 0,
    times: 1,
  });
  if (made.kind === "impossible") throw new Error(made.reason);
  return staffLines(made.exercise, 4)[0]?.abc ?? "";
}

/** Pitches as the page has them, a clef of any kind left aside. */
function written(abc: string): readonly number[] {
  const read = readAbc(abc.replace(/ clef=\S+/, ""));
  if (read.kind !== "tunes") throw new Error(read.reason);
  return read.tunes.flatMap((one: Tune) => one.notes.map((note) => note.midi));
}

const asWritten = tune.notes.map((note) => note.midi);

describe("the octave a tune stands in on the staff", () => {
  test("is its own where few notes need ledger lines", () => {
    // Fiddle range D4 to B5 (fact sheet, section 8: most dances lie within it).
    expect(staffOctaves([62, 69, 74, 78, 83].map(midi))).toBe(0);
    expect(staffOctaves([])).toBe(0);
  });

  test("is the one with the fewest ledger lines where there would be more than one to a note", () => {
    // [calc] an octave and two higher than D5 F#5 A5, two lower.
    expect(staffOctaves([86, 90, 93].map(midi))).toBe(1);
    expect(staffOctaves([98, 102, 105].map(midi))).toBe(2);
    expect(staffOctaves([50, 54, 57].map(midi))).toBeLessThan(0);
  });

  test("is told in words and by a clef that has an 8", () => {
    expect([1, 2, -1, 0].map(staffOctaveWords)).toEqual([
      "sounds an octave higher",
      "sounds 2 octaves higher",
      "sounds an octave lower",
      "",
    ]);
    // ABC 2.1, 4.6: +8 and -8 draw the 8 over and under the clef.
    expect([1, 2, -1, 0].map(staffClef)).toEqual([" clef=treble+8", "", " clef=treble-8", ""]);
  });

  test("on the screen and on paper is the written one for a tune an octave up, with the words", () => {
    const screen = screenAt(1);
    expect(written(screen)).toEqual(asWritten);
    expect(screen).toContain('"^sounds an octave higher"');
    expect(screen).toContain("clef=treble+8");
    const paper = tuneSheet(tune, planAt(1));
    expect(written(paper)).toEqual(asWritten);
    expect(paper).toContain("an octave up, sounds an octave higher than written");
    expect(paper).toContain("clef=treble+8");
  });

  test("as it is says nothing of octaves, on the screen and on paper", () => {
    expect(written(screenAt(0)).length).toBeLessThanOrEqual(asWritten.length);
    expect(written(tuneSheet(tune, planAt(0)))).toEqual(asWritten);
    for (const abc of [screenAt(0), tuneSheet(tune, planAt(0))]) {
      expect(abc).not.toMatch(/sounds|clef/);
    }
  });
});
