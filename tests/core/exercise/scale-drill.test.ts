import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { onsetOf, playingSeconds, targetHz } from "../../../core/exercise/exercise.ts";
import { makeScaleDrill } from "../../../core/exercise/scale-drill.ts";
import { KEYS_BY_REGISTER } from "../../../core/instrument/harp.ts";
import { actionNote } from "../../../core/instrument/reed-actions.ts";
import { MODE_NAMES, modeDegrees } from "../../../core/pitch/modes.ts";
import { bpm } from "../../../core/units.ts";
import { drill, exerciseOf } from "../../support/drills.ts";
import { harp } from "../../support/harps.ts";

const names = (exercise: ReturnType<typeof exerciseOf>) => exercise.notes.map((note) => note.noteName);
const tabs = (exercise: ReturnType<typeof exerciseOf>) => exercise.notes.map((note) => note.tab);

describe("scales as a player practises them", () => {
  test("the full major scale of a C harp lies from 4 blow to 7 blow", () => {
    // Fact sheet, section 1: "full major scale only from 4 blow to 7 blow" [calc].
    const scale = exerciseOf({ harp: harp("C"), position: 1, mode: "major", direction: "up" });
    expect(tabs(scale)).toEqual(["4", "-4", "5", "-5", "6", "-6", "-7", "7"]);
    expect(names(scale)).toEqual(["C5", "D5", "E5", "F5", "G5", "A5", "B5", "C6"]);
  });

  test("low second position on a G harp needs the three draw bent a whole tone for its second degree", () => {
    // Fact sheet, section 4: second position lacks its low 2 (A4 on a C harp) [calc]; on a G harp a fourth lower: E4.
    const scale = exerciseOf({ start: "lowest", direction: "up" });
    expect(names(scale)).toEqual(["D4", "E4", "F#4", "G4", "A4", "B4", "C5", "D5"]);
    expect(tabs(scale)).toEqual(["-2", "-3''", "-3", "4", "-4", "5", "-5", "6"]);
    expect(scale.trains).toContain("-3''");
  });

  test("the easiest second position scale has no bend", () => {
    expect(tabs(exerciseOf({ direction: "up" }))).toEqual(["6", "-6", "-7", "7", "-8", "8", "-9", "9"]);
  });

  test("third position on a C harp is D Dorian from 4 draw to 8 draw", () => {
    const scale = exerciseOf({ harp: harp("C"), position: 3, mode: "dorian", direction: "up" });
    expect(tabs(scale)).toEqual(["-4", "5", "-5", "6", "-6", "-7", "7", "-8"]);
  });

  test("down is up reversed, and both turn round on the top note once", () => {
    const up = names(exerciseOf({ direction: "up" }));
    expect(names(exerciseOf({ direction: "down" }))).toEqual([...up].reverse());
    expect(names(exerciseOf({ direction: "both" }))).toHaveLength(15);
  });

  test("two octaves of second position begin on two draw", () => {
    const scale = exerciseOf({ octaves: 2, direction: "up" });
    expect(names(scale)[0]).toBe("D4");
    expect(names(scale)).toHaveLength(15);
  });

  test("a scale the harp cannot sound is refused with the notes it lacks", () => {
    // A stock harp has no E flat without overblows: fact sheet, section 2 [calc].
    const made = makeScaleDrill(drill({ harp: harp("C"), position: 1, mode: "minor", octaves: 2 }));
    expect(made).toEqual({
      kind: "impossible",
      reason: expect.stringMatching(/cannot be sounded without overblows: no .*Eb/),
    });
  });

  test("a player who does not bend gets no bend, and is told when none of the scale is left", () => {
    const low = makeScaleDrill(drill({ octaves: 2, abilities: { bends: false, overbends: false } }));
    expect(low).toEqual({ kind: "impossible", reason: expect.stringContaining("without bends") });
  });

  test("notes too short to be marked are refused with their length", () => {
    const made = makeScaleDrill(drill({ tempo: { bpm: bpm(240), noteValue: "1/4" }, notesPerBeat: 4 }));
    // [calc] 60/240/4 s = 62.5 ms
    expect(made).toEqual({ kind: "impossible", reason: expect.stringContaining("63 ms") });
  });

  test("at 90 crotchets a minute beats stand 667 ms apart and quavers half of that", () => {
    const quavers = exerciseOf({ notesPerBeat: 2 });
    const third = quavers.notes[2];
    if (third === undefined) throw new Error("fifteen notes expected");
    expect(onsetOf(quavers, third)).toBeCloseTo(60 / 90, 9); // [calc]
    expect(playingSeconds(quavers)).toBeCloseTo((15 / 2) * (60 / 90), 9); // [calc]
  });

  test("a harp at A = 442 has its targets 7.85 cents higher", () => {
    const [at440, at442] = [440, 442].map((a4) => exerciseOf({ harp: harp("G", a4) }));
    const first = (exercise: ReturnType<typeof exerciseOf> | undefined) => {
      const note = exercise?.notes[0];
      if (exercise === undefined || note === undefined) throw new Error("notes expected");
      return targetHz(exercise, note);
    };
    expect(1200 * Math.log2(first(at442) / first(at440))).toBeCloseTo(7.85, 2); // [calc] 1200·log2(442/440)
  });
});

describe("every scale that is made", () => {
  const drills = fc.record({
    harp: fc.constantFrom(...KEYS_BY_REGISTER).map((key) => harp(key)),
    position: fc.integer({ min: 1, max: 12 }),
    mode: fc.constantFrom(...MODE_NAMES),
    octaves: fc.constantFrom(1 as const, 2 as const),
    direction: fc.constantFrom("up" as const, "down" as const, "both" as const),
    start: fc.constantFrom("easiest" as const, "lowest" as const),
    abilities: fc.record({ bends: fc.boolean(), overbends: fc.boolean() }),
  });

  test("holds only notes the harp sounds with what the player can do, each the right degree above the home note", () => {
    let made = 0;
    fc.assert(
      fc.property(drills, (choice) => {
        const result = makeScaleDrill(drill(choice));
        if (result.kind === "impossible") return;
        made++;
        const steps = new Map(
          modeDegrees(choice.mode).map((degree) => [degree.name, degree.aboveHome as number]),
        );
        for (const note of result.exercise.notes) {
          expect(actionNote(result.exercise.harp, note.action)).toBe(note.midi);
          if (!choice.abilities.bends) expect(note.action.technique).not.toBe("bend");
          if (!choice.abilities.overbends) expect(note.action.technique).not.toMatch(/^over/);
          const home = choice.harp.keyNote + 7 * (choice.position - 1);
          expect((((note.midi - home) % 12) + 12) % 12).toBe(steps.get(note.degree));
        }
      }),
      { numRuns: 300 },
    );
    expect(made).toBeGreaterThan(50);
  });
});
