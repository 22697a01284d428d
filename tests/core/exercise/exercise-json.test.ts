import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { readExercise } from "../../../core/exercise/exercise-json.ts";
import { exerciseOf } from "../../support/drills.ts";
import { made } from "./make.ts";

const good = () => JSON.parse(JSON.stringify(exerciseOf()));
const reasonFor = (data: unknown) => {
  const read = readExercise(typeof data === "string" ? data : JSON.stringify(data));
  return read.kind === "unreadable" ? read.reason : "was read";
};

/** The exercise with one field replaced. */
function broken(change: (exercise: ReturnType<typeof good>) => void) {
  const data = good();
  change(data);
  return data;
}

/** A chord, draw 1-3 of a C harp [F 1], with one thing changed. */
function brokenChord(change: (besides: ReturnType<typeof good>["notes"]) => void) {
  const data = JSON.parse(
    JSON.stringify(
      made("backing", { chords: "V", strokes: "held", mostHoles: 3, partial: true, repeats: 1 }),
    ),
  );
  change(data.notes[0].chord.besides);
  return data;
}

describe("reading an exercise file with chords", () => {
  test.each([
    [(b: ReturnType<typeof good>) => b, "was read"],
    [
      (b: ReturnType<typeof good>) => {
        b[0].midi = 68;
      },
      "notes[0].chord.besides[0].action: 2 draw sounds G4 on this harp, not the written G#4",
    ],
    [
      (b: ReturnType<typeof good>) => {
        b[1].action.breath = "blow";
        b[1].midi = 67;
      },
      "notes[0].chord.besides[1].action: 3 blow is not on the breath of 1 draw",
    ],
    [
      (b: ReturnType<typeof good>) => b.reverse(),
      "notes[0].chord.besides[1].action: hole 2 is not above hole 3",
    ],
    [
      (b: ReturnType<typeof good>) => {
        b[1].action = { ...b[1].action, technique: "bend", bentSemitones: 1 };
        b[1].midi = 70;
      },
      "notes[0].chord.besides[1].action: only plain reeds sound together",
    ],
    [(b: ReturnType<typeof good>) => b.splice(0), /besides: .*length/],
  ])("says what contradicts the harp (%#)", (change, said) => {
    const reason = reasonFor(brokenChord(change));
    if (typeof said === "string") expect(reason).toBe(said);
    else expect(reason).toMatch(said);
  });
});

describe("reading an exercise file", () => {
  test("what was written is read back the same", () => {
    const exercise = exerciseOf();
    expect(readExercise(JSON.stringify(exercise))).toEqual({ kind: "exercise", exercise });
  });

  test.each([
    ["hello", /not JSON/],
    ["[]", /no JSON object/],
    ["{}", /"schema" is not "reedpath.exercise"/],
    [
      broken((e) => {
        e.version = 5;
      }),
      /newer version/,
    ],
    [
      broken((e) => {
        e.version = "1";
      }),
      /^version: /,
    ],
    [
      broken((e) => {
        e.notes[3].midi = "62";
      }),
      /^notes\[3\]\.midi: /,
    ],
    [
      broken((e) => {
        e.notes[3].lengthBeats = 0;
      }),
      /^notes\[3\]\.lengthBeats: /,
    ],
    [
      broken((e) => {
        e.notes[3].startBeats = 0;
      }),
      /^notes\[3\]\.startBeats: 0 is before/,
    ],
    [
      broken((e) => {
        e.notes[2].index = 7;
      }),
      /^notes\[2\]\.index: is 7, must be 2/,
    ],
    [
      broken((e) => {
        e.notes = [];
      }),
      /^notes: /,
    ],
    [
      broken((e) => {
        e.tempo.bpm = 900;
      }),
      /^tempo\.bpm: /,
    ],
    [
      broken((e) => {
        e.harp.key = "H";
      }),
      /^harp\.key: not the name of a key/,
    ],
    [
      broken((e) => {
        e.harp.layout.holes = Array(17).fill({ blow: 0, draw: 2 });
      }),
      /^harp\.layout\.holes: /,
    ],
    [
      broken((e) => {
        e.notes[0].action.hole = 5;
      }),
      /^notes\[0\]\.action: 5 blow sounds B4 on this harp, not the written D5/,
    ],
    [
      broken((e) => {
        e.notes[0].action.technique = "bend";
      }),
      /^notes\[0\]\.action: .*cannot be played on this harp/,
    ],
    [
      broken((e) => {
        delete e.harp;
      }),
      /^harp: /,
    ],
  ])("a file that is no exercise says where and why (%#)", (data, reason) => {
    const said = reasonFor(data);
    expect(said).toMatch(reason);
    expect(said).not.toContain("\n");
  });

  test("any other JSON is refused, never thrown at", () => {
    fc.assert(
      fc.property(fc.json(), (text) => {
        expect(readExercise(text).kind).toBe("unreadable");
      }),
    );
  });
});
