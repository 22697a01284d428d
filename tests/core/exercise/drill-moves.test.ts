import { describe, expect, test } from "vitest";
import type { DrillSpec, PatternFigure } from "../../../core/exercise/drill-spec.ts";
import type { Exercise } from "../../../core/exercise/exercise.ts";
import { sameAction } from "../../../core/instrument/reed-actions.ts";
import { modeDegrees } from "../../../core/pitch/modes.ts";
import { movesWithoutRest, overMadeDrills } from "./over-drills.ts";

/** How many steps of a scale lie between the notes that follow each other. */
function stepsOf(exercise: Exercise, degrees: readonly string[]): readonly number[] {
  const { harp, position, mode } = exercise;
  const home = harp.keyNote + (harp.layout.positionKey ?? 0) + 7 * (position - 1);
  const above = modeDegrees(mode)
    .filter((degree) => degrees.includes(degree.name))
    .map((degree) => degree.aboveHome as number);
  const rung = (midi: number) => {
    const octave = Math.floor((midi - home) / 12);
    return octave * above.length + above.indexOf(midi - home - 12 * octave);
  };
  return movesWithoutRest(exercise).map(([from, to]) => Math.abs(rung(to.midi) - rung(from.midi)));
}

const everyDegree = ({ mode }: DrillSpec) => modeDegrees(mode).map((degree) => degree.name);

/** Steps from the lowest to the highest note of a figure as its name has it; an octave is as many as the mode has notes. */
const SPANS: Readonly<Record<PatternFigure, number | "octave">> = {
  thirds: 2,
  fourths: 3,
  sixths: 5,
  octaves: "octave",
  turns: 2, // [calc] from the note above to the note below
  "1-2-3-1": 2,
  "1-2-3-5": 4,
  threes: 2,
  fours: 3,
};

describe("no drill asks a move it does not say", () => {
  test("scales and long tones go step by step", () => {
    for (const kind of ["scale", "long-tones"] as const)
      overMadeDrills(kind, 100, (exercise, spec) => {
        for (const steps of stepsOf(exercise, everyDegree(spec))) expect(steps).toBe(1);
      });
  });

  test("broken chords go from one note of the chord to the next", () => {
    overMadeDrills("arpeggio", 100, (exercise, spec) => {
      if (spec.kind !== "arpeggio") throw new Error("a drill of another kind");
      const all = everyDegree(spec);
      const thirds = spec.size === "triad" ? [0, 2, 4] : [0, 2, 4, 6];
      const chord = thirds.map((third) => all[(all.indexOf(spec.degree) + third) % 7] ?? "");
      for (const steps of stepsOf(exercise, chord)) expect(steps).toBe(1);
    });
  });

  test("figures leap no wider than the figure spans", () => {
    const seen = new Set<string>();
    overMadeDrills("pattern", 300, (exercise, spec) => {
      if (spec.kind !== "pattern") throw new Error("a drill of another kind");
      const span = SPANS[spec.figure];
      const degrees = everyDegree(spec);
      const widest = span === "octave" ? degrees.length : span;
      for (const steps of stepsOf(exercise, degrees)) expect(steps).toBeLessThanOrEqual(widest);
      seen.add(spec.figure);
    });
    expect(seen.size).toBe(9);
  });

  test("random notes leap no wider than they may, and never stay", () => {
    overMadeDrills("random-notes", 200, (exercise, spec) => {
      if (spec.kind !== "random-notes") throw new Error("a drill of another kind");
      const { largestLeap = Number.POSITIVE_INFINITY } = spec;
      for (const steps of stepsOf({ ...exercise, notes: withoutRests(exercise) }, everyDegree(spec))) {
        expect(steps).toBeGreaterThanOrEqual(1);
        expect(steps).toBeLessThanOrEqual(largestLeap);
      }
    });
  });

  test("hole jumps are as wide as said, and never wider until the rest", () => {
    overMadeDrills("hole-jumps", 200, (exercise, spec) => {
      if (spec.kind !== "hole-jumps") throw new Error("a drill of another kind");
      const holes = movesWithoutRest(exercise).map(([from, to]) =>
        Math.abs(to.action.hole - from.action.hole),
      );
      expect(Math.max(...holes)).toBe(spec.jump);
      for (const { action } of exercise.notes) {
        expect(action.technique).toBe("plain");
        if (spec.breath !== "alternate") expect(action.breath).toBe(spec.breath);
      }
    });
  });

  test("one breath stays one breath until the rest, hole by hole", () => {
    overMadeDrills("one-breath", 150, (exercise) => {
      for (const [from, to] of movesWithoutRest(exercise)) {
        expect(to.action.breath).toBe(from.action.breath);
        expect(Math.abs(to.action.hole - from.action.hole)).toBeLessThanOrEqual(1);
      }
    });
  });

  test("two notes in turn are those two, in turn", () => {
    overMadeDrills("breath-pair", 100, (exercise, spec) => {
      if (spec.kind !== "breath-pair") throw new Error("a drill of another kind");
      for (const { action } of exercise.notes)
        expect(sameAction(action, spec.first) || sameAction(action, spec.second)).toBe(true);
      for (const [from, to] of movesWithoutRest(exercise))
        expect(sameAction(from.action, to.action)).toBe(false);
    });
  });

  test("bends stay in their hole but for the plain note they are matched to, and ladders go by semitones", () => {
    overMadeDrills("bend", 200, (exercise, spec) => {
      if (spec.kind !== "bend") throw new Error("a drill of another kind");
      if (spec.figure === "match") return;
      expect(new Set(exercise.notes.map(({ action }) => action.hole)).size).toBe(1);
      if (spec.figure !== "ladder" || spec.restBeats === 0) return;
      for (const [from, to] of movesWithoutRest(exercise)) expect(Math.abs(to.midi - from.midi)).toBe(1);
    });
  });
});

/** Random notes are asked one by one, with time between: moved together, to look at what follows what. */
function withoutRests({ notes }: Exercise): Exercise["notes"] {
  return notes.map((note, place) => ({
    ...note,
    startBeats: place as typeof note.startBeats,
    lengthBeats: 1 as typeof note.lengthBeats,
  }));
}
