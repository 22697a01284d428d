import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { harpInKey, KEYS_BY_REGISTER } from "../../../core/instrument/harp.ts";
import { reedsOf } from "../../../core/instrument/layout.ts";
import {
  naturalModeOf,
  type PositionReport,
  positionReport,
  positionReports,
} from "../../../core/instrument/position-report.ts";
import {
  naturalMode,
  POSITIONS,
  positionHomeName,
  positionOfHome,
} from "../../../core/instrument/positions.ts";
import { actionNote, actionsForNote, EVERYTHING, PLAIN_ONLY } from "../../../core/instrument/reed-actions.ts";
import { degreesOn, modeOn, scaleReport } from "../../../core/instrument/scale-report.ts";
import { stockLayout } from "../../../core/instrument/stock-layouts.ts";
import { tab } from "../../../core/instrument/tab.ts";
import { degreesOfText, MODE_NAMES, modeDegrees } from "../../../core/pitch/modes.ts";
import { noteName, pitchClass } from "../../../core/pitch/note-names.ts";
import { semitones } from "../../../core/units.ts";
import { POSITION_TABLE } from "../../sources/positions-table.ts";
import { anyHarp, anyLayout, inKey } from "../../support/any-layout.ts";
import { harp } from "../../support/harps.ts";

function known(id: string) {
  const layout = stockLayout(id);
  if (layout === null) throw new Error(`no layout ${id}`);
  return inKey(layout, "C");
}

describe("the twelve positions of a standard C harp", () => {
  const reports = positionReports(harp("C"));

  test.each(POSITION_TABLE)("position $position is as printed", (row) => {
    const report = reports[row.position - 1];
    if (report === undefined) throw new Error("no report");
    expect(report.homeName).toBe(row.home);
    expect(report.naturalMode).toBe(row.mode);
    const plain = report.homeReeds.filter((reed) => reed.action.technique === "plain");
    const homes = row.mode === null ? report.homeReeds : plain;
    // The printed row leaves out Db7, a semitone above the harp's last reed.
    const printed = homes.filter((reed) => reed.note <= 96);
    expect(printed.map((reed) => tab(reed.action))).toEqual(row.homeReeds);
    expect(report.notPlain.map((one) => `${one.place} ${one.degree}`)).toEqual(row.missing);
    expect(report.naturalMode).toBe(naturalMode(row.position));
  });

  test("low and top gaps are the same three notes in every position", () => {
    // Fact sheet, section 4: F4, A4, B6 [calc].
    const natural = reports.filter((report) => report.naturalMode !== null);
    expect(natural).toHaveLength(7);
    for (const report of natural)
      expect(report.notPlain.map((one) => one.noteName)).toEqual(["F4", "A4", "B6"]);
  });

  test("second position has its low second by a bend and its low sixth plain", () => {
    const mixolydian = modeReport(reports[1], "mixolydian");
    const found = (noteText: string) => mixolydian.octaves.flat().find((one) => one.noteName === noteText);
    expect(found("A4")).toMatchObject({ degree: "2", means: "bend" });
    expect(found("A4")?.actions.map((action) => tab(action))).toEqual(["-3''"]);
    expect(found("E5")).toMatchObject({ degree: "6", means: "plain" });
  });

  test("the longest plain run in the key itself goes from 3 draw to 10 draw", () => {
    // [calc] A4 and B6 are missing: B4 C5 D5 E5 F5 G5 A5 B5 C6 D6 E6 F6 G6 A6, fourteen notes.
    const run = modeReport(reports[0], "major").longestPlainRun;
    expect(run && [noteName(run.low), noteName(run.high), run.notes]).toEqual(["B4", "A6", 14]);
    // [calc] with bends nothing of C major is missing from C4 to C7: 22 notes.
    expect(modeReport(reports[0], "major").longestRun?.notes).toBe(22);
    expect(modeReport(reports[0], "major").plainOctaves).toBe(1); // 4 to 7 blow alone [F 1]
  });

  test("what the player cannot do is missing", () => {
    const plain = positionReport(harp("C"), 2, PLAIN_ONLY, ["mixolydian"]);
    const missing = modeReport(plain, "mixolydian")
      .octaves.flat()
      .filter((one) => one.means === "missing");
    expect(missing.map((one) => one.noteName)).toEqual(["F4", "A4", "B6"]);
    const withSix = positionReport(harp("C"), 2, { bends: false, overbends: [6] }, ["minor"]);
    const overblown = modeReport(withSix, "minor")
      .octaves.flat()
      .filter((one) => one.means === "overblow");
    expect(overblown.map((one) => one.noteName)).toEqual(["Bb5"]); // fact sheet, section 2: 6 OB Bb5 [calc]
  });
});

function modeReport(report: PositionReport | undefined, mode: string) {
  const found = report?.modes.find((one) => one.mode === mode);
  if (found === undefined) throw new Error(`no ${mode}`);
  return found;
}

describe("positions of altered layouts", () => {
  test("raised 3-blow with raised 4ths has a complete plain major scale in second position", () => {
    // Fact sheet, section 1: major scale a 5th up from 2 draw [F 1]. [calc] G4 to A6 unbroken: 16 notes, two octaves and a tone.
    const second = positionReport(known("raised-third-blow-with-raised-fourths"), 2);
    expect([second.homeName, second.naturalMode]).toEqual(["G", "major"]);
    const major = modeReport(second, "major");
    expect(major.plainOctaves).toBe(2);
    const run = major.longestPlainRun;
    expect(run && [noteName(run.low), noteName(run.high), run.notes]).toEqual(["G4", "A6", 16]);
  });

  // What each layout is said to be for, fact sheet, section 1.
  test.each([
    ["natural-minor-second-position", 2, "minor"], // G natural minor [F 4]
    ["natural-minor-second-position", 1, "dorian"], // C Dorian [F 4]
    ["natural-minor-first-position", 1, "minor"], // [calc]
    ["harmonic-minor", 1, "harmonic minor"], // [F 1] [F 4]
    ["dorian-second-position", 2, "dorian"], // [M] [calc]
    ["dorian-second-position", 1, "mixolydian"], // [calc]
    ["solo-12", 1, "major"], // [F 1]
    ["circular-from-the-fifth", 1, "major"], // [F 5]
    ["country", 1, "lydian"], // [calc] the one whole plain octave, C5 to C6, has F#5
  ] as const)("%s in position %d is %s", (id, position, mode) => {
    expect(naturalModeOf(known(id), position)).toBe(mode);
  });

  test("solo tuning has the full scale in every octave", () => {
    // Fact sheet, section 1 [F 1]: [calc] three octaves with twelve holes, 22 notes unbroken.
    const report = scaleReport(known("solo-12"), modeOn(0, "major"));
    expect(report.plainOctaves).toBe(3);
    expect(report.longestPlainRun?.notes).toBe(22);
  });

  test("positions counted from another note move with it", () => {
    const layout = { ...known("standard").layout, positionKey: semitones(7) };
    expect(POSITIONS.slice(0, 3).map((position) => positionHomeName(inKey(layout, "C"), position))).toEqual([
      "G", // [calc] a fifth above C is the first position then
      "D",
      "A",
    ]);
  });

  test("a home note is found by its position", () => {
    expect(positionOfHome(harp("G"), 2)).toBe(2); // D on a G harp is second [F 22]
    for (const position of POSITIONS) expect(positionOfHome(harp("C"), 7 * (position - 1))).toBe(position);
  });

  test("the harp for second position in a key is the key a fourth above, for third a whole tone below", () => {
    // Fact sheet, section 4 [calc]: for G, a C harp; for D, a C harp.
    expect(positionHomeName(harp("C"), 2)).toBe("G");
    expect(positionHomeName(harp("C"), 3)).toBe("D");
  });
});

describe("any set of degrees", () => {
  test("is reported like a mode", () => {
    const degrees = degreesOfText("1 4 5");
    if (degrees === null) throw new Error("degrees");
    const report = scaleReport(harp("C"), degreesOn(7, degrees), PLAIN_ONLY);
    // [calc] G C D over C4-C7: all of them plain.
    expect(report.octaves.flat().map((one) => one.noteName)).toEqual([
      "C4",
      "D4",
      "G4",
      "C5",
      "D5",
      "G5",
      "C6",
      "D6",
      "G6",
      "C7",
    ]);
    expect(report.longestPlainRun?.notes).toBe(10);
  });
});

describe("on any layout", () => {
  test("every note told is one the harp sounds by every action told, and none is left out", () => {
    fc.assert(
      fc.property(
        anyHarp,
        fc.constantFrom(...POSITIONS),
        fc.constantFrom(...MODE_NAMES),
        (one, position, mode) => {
          const report = positionReport(one, position, EVERYTHING, [mode]);
          const found = modeReport(report, mode).octaves.flat();
          expect(found.every((note, index) => index === 0 || note.note > (found[index - 1]?.note ?? 0))).toBe(
            true,
          );
          for (const note of found) {
            expect(note.actions).toEqual(actionsForNote(one, note.note, EVERYTHING));
            for (const action of note.actions) expect(actionNote(one, action)).toBe(note.note);
            expect(note.means === "missing").toBe(note.actions.length === 0);
          }
          const steps = modeDegrees(mode).map((degree) => Number(degree.aboveHome));
          const plain = new Set(
            found.filter((note) => note.means === "plain").map((note) => Number(note.note)),
          );
          for (const reed of reedsOf(one.layout)) {
            const note = one.keyNote + reed.sounds;
            if (steps.includes(pitchClass(note - report.home))) expect(plain.has(note)).toBe(true);
          }
        },
      ),
    );
  });

  test("octaves begin with the home note, and runs hold as many notes as they say", () => {
    fc.assert(
      fc.property(anyHarp, fc.constantFrom(...MODE_NAMES), (one, mode) => {
        const report = scaleReport(one, modeOn(pitchClass(one.keyNote + 7), mode));
        report.octaves.slice(1).forEach((octave) => {
          expect(octave[0]?.degree).toBe("1");
        });
        const all = report.octaves.flat();
        for (const [run, passes] of [
          [report.longestPlainRun, (means: string) => means === "plain"],
          [report.longestRun, (means: string) => means !== "missing"],
        ] as const) {
          if (run === null) continue;
          const within = all.filter((note) => note.note >= run.low && note.note <= run.high);
          expect(within).toHaveLength(run.notes);
          expect(within.every((note) => passes(note.means))).toBe(true);
        }
      }),
    );
  });

  test("transposing a harp transposes every answer", () => {
    fc.assert(
      fc.property(anyLayout, fc.constantFrom(...KEYS_BY_REGISTER), (layout, key) => {
        const from = harpInKey(layout, "G");
        const to = harpInKey(layout, key);
        if (from === null || to === null) throw new Error("both are keys");
        const by = to.keyNote - from.keyNote;
        const before = positionReports(from, EVERYTHING, ["major", "blues"]);
        const after = positionReports(to, EVERYTHING, ["major", "blues"]);
        const shape = (reports: readonly PositionReport[], shift: number) =>
          reports.map((report) => ({
            home: pitchClass(report.home + shift),
            mode: report.naturalMode,
            reeds: report.homeReeds.map((reed) => [reed.note + shift, tab(reed.action)]),
            modes: report.modes.map((mode) => [
              mode.plainOctaves,
              mode.longestRun && [mode.longestRun.low + shift, mode.longestRun.notes],
              mode.octaves.flat().map((one) => [one.note + shift, one.degree, one.means, one.place]),
            ]),
          }));
        expect(shape(after, 0)).toEqual(shape(before, by));
      }),
      { numRuns: 40 },
    );
  });
});
