import fc from "fast-check";
import { Note } from "tonal";
import { describe, expect, test } from "vitest";
import { changeTempo } from "../../../core/exercise/change-tempo.ts";
import { drillOfExercise } from "../../../core/exercise/drill-of-exercise.ts";
import type { DrillSpec } from "../../../core/exercise/drill-spec.ts";
import { type Exercise, lengthOf, onsetOf } from "../../../core/exercise/exercise.ts";
import { exerciseToAbc, staffLines } from "../../../core/exercise/exercise-abc.ts";
import { readExercise } from "../../../core/exercise/exercise-json.ts";
import { makeDrill } from "../../../core/exercise/make-drill.ts";
import { SHORTEST_NOTE_SECONDS } from "../../../core/exercise/rhythm.ts";
import { reedActions, sameAction } from "../../../core/instrument/reed-actions.ts";
import { modeDegrees } from "../../../core/pitch/modes.ts";
import { intervalOfDegree } from "../../support/tonal-degrees.ts";
import { anyDrill, DRILL_KINDS } from "./any-drill.ts";
import { overMadeDrills } from "./over-drills.ts";
import { soundingNotes } from "./read-abc.ts";

/** Kinds that stay within the notes of the mode; the others work reeds whatever the mode. */
const IN_MODE: readonly DrillSpec["kind"][] = [
  "scale",
  "arpeggio",
  "progression",
  "pattern",
  "one-breath",
  "long-tones",
  "random-notes",
];
const BREATH_WORK = ["breath-pair", "hole-jumps", "one-breath", "long-tones", "backing"];

/** All notes of an exercise, of chords every reed. */
const midisOf = (exercise: Exercise) =>
  exercise.notes.flatMap(({ midi, chord }) => [midi, ...(chord?.besides ?? []).map((reed) => reed.midi)]);

describe.each(DRILL_KINDS)("any %s drill on any harp", (kind) => {
  test("holds only notes the harp sounds with what the player can do", () => {
    overMadeDrills(kind, 150, (exercise, spec) => {
      const able = reedActions(spec.harp.layout, spec.abilities);
      for (const note of exercise.notes) {
        const match = able.find((one) => sameAction(one.action, note.action));
        expect(match).toBeDefined();
        expect(spec.harp.keyNote + (match?.sounds ?? Number.NaN)).toBe(note.midi);
      }
    });
  });

  test("is read back from its file the same, and made again from its parameters note by note", () => {
    overMadeDrills(kind, 100, (exercise) => {
      const read = readExercise(JSON.stringify(exercise));
      expect(read).toEqual({ kind: "exercise", exercise });
      if (read.kind === "unreadable") return;
      const drill = drillOfExercise(read.exercise);
      if (drill.kind === "unreadable") throw new Error(drill.reason);
      expect(makeDrill(drill.spec)).toEqual({ kind: "exercise", exercise });
    });
  });

  test("has one note at a time, none too short to be marked, and says in a sentence what it trains", () => {
    overMadeDrills(kind, 100, (exercise) => {
      let end = 0;
      for (const note of exercise.notes) {
        expect(onsetOf(exercise, note)).toBeGreaterThanOrEqual(end - 1e-9);
        end = onsetOf(exercise, note) + lengthOf(exercise, note);
        expect(lengthOf(exercise, note)).toBeGreaterThanOrEqual(SHORTEST_NOTE_SECONDS - 1e-9);
      }
      expect(exercise.trains).toMatch(/^[A-Z].*[^.]\.$/);
      expect(exercise.trains).not.toMatch(/undefined|NaN/);
      expect(exercise.caution === undefined).toBe(!BREATH_WORK.includes(kind));
    });
  });

  test("is read back by an ABC program with the same pitches, whole and line by line", () => {
    overMadeDrills(kind, 50, (exercise) => {
      const asked = midisOf(exercise);
      expect(soundingNotes(exerciseToAbc(exercise)).map((note) => note.midi)).toEqual(asked);
    });
  });
});

describe.each(DRILL_KINDS)("any %s drill in any position and mode", (kind) => {
  test("calls every note by its degree above the home note, as tonal transposes it", () => {
    let compared = 0;
    overMadeDrills(kind, 100, (exercise) => {
      for (const note of exercise.notes) {
        expect(Note.midi(note.noteName)).toBe(note.midi);
        // tonal 6.4.3 [X]; names of more than two accidentals, which no staff can show, are called more simply.
        const theirs = Note.get(Note.transpose(exercise.home, intervalOfDegree(note.degree)));
        if (theirs.acc.length > 2) continue;
        expect(note.noteName.replace(/\d+$/, "")).toBe(theirs.pc);
        compared++;
      }
    });
    expect(compared).toBeGreaterThan(200);
  });
});

describe.each(IN_MODE)("any %s drill", (kind) => {
  test("keeps to the mode, each note the degree it says", () => {
    overMadeDrills(kind, 100, (exercise) => {
      const above = new Map(modeDegrees(exercise.mode).map((degree) => [degree.name, degree.aboveHome]));
      const { keyNote, layout } = exercise.harp;
      const home = keyNote + (layout.positionKey ?? 0) + 7 * (exercise.position - 1);
      for (const note of exercise.notes)
        expect((((note.midi - home) % 12) + 12) % 12).toBe(above.get(note.degree));
    });
  });
});

describe.each(DRILL_KINDS)("any %s drill slower or faster", (kind) => {
  test("is still one that is made at that tempo, and is told where it stops", () => {
    let stopped = 0;
    overMadeDrills(kind, 100, (exercise) => {
      for (const step of [-5, 5, -200, 200]) {
        const changed = changeTempo(exercise, step);
        const drill = drillOfExercise(changed.exercise);
        if (drill.kind === "unreadable") throw new Error(drill.reason);
        expect(makeDrill(drill.spec)).toEqual({ kind: "exercise", exercise: changed.exercise });
        const reached = changed.exercise.tempo.bpm === exercise.tempo.bpm + step;
        expect(changed.held === null).toBe(reached);
        if (!reached) stopped++;
      }
    });
    expect(stopped).toBeGreaterThan(100);
  });
});

describe("lines of the staff", () => {
  test("hold every note of a drill once, in order", () => {
    overMadeDrills("breath-pair", 60, (exercise) => {
      const lines = staffLines(exercise, 2);
      expect(lines.flatMap((line) => soundingNotes(line.abc).map((note) => note.midi))).toEqual(
        exercise.notes.map((note) => note.midi),
      );
    });
  });
});

describe("numbers no drill can have", () => {
  const numbers = fc.constantFrom(-1, 0, 0.5, 1e9, Number.NaN, Infinity, -Infinity, 17, 3.7);
  const numeric = [
    "position",
    "countInBeats",
    "beatsPerBar",
    "repeats",
    "count",
    "seed",
    "noteBeats",
    "callBeats",
  ];
  numeric.push(
    "holdBeats",
    "restBeats",
    "toneBeats",
    "roundBeats",
    "jump",
    "mostHoles",
    "notesPerBeat",
    "hole",
    "largestLeap",
  );

  test.each(DRILL_KINDS)("are refused in words or do not matter, and never thrown at (%s)", (kind) => {
    fc.assert(
      fc.property(anyDrill(kind), fc.constantFrom(...numeric), numbers, (spec, field, value) => {
        if (!(field in spec) && !["countInBeats", "beatsPerBar"].includes(field)) return;
        const made = makeDrill({ ...spec, [field]: value } as unknown as DrillSpec);
        if (made.kind === "impossible") expect(made.reason).not.toMatch(/\n|undefined|\[object/);
        else expect(readExercise(JSON.stringify(made.exercise)).kind).toBe("exercise");
      }),
      { numRuns: 300 },
    );
  });
});
