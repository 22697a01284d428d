import fc from "fast-check";
import { Chord, Note } from "tonal";
import { describe, expect, test } from "vitest";
import { harpInKey, KEYS_BY_REGISTER, withTemperament } from "../../../core/instrument/harp.ts";
import { numeralOf, romanNumeral } from "../../../core/instrument/numerals.ts";
import { modeOn } from "../../../core/instrument/scale-report.ts";
import { neighbourSonorities, sonorityOf, splitOctaves } from "../../../core/instrument/sonorities.ts";
import { stockLayout } from "../../../core/instrument/stock-layouts.ts";
import { triadReports } from "../../../core/instrument/triads.ts";
import { modeDegrees } from "../../../core/pitch/modes.ts";
import { pitchClass } from "../../../core/pitch/note-names.ts";
import { anyHarp, anyLayout, inKey } from "../../support/any-layout.ts";
import { harp } from "../../support/harps.ts";

const C_MAJOR = modeOn(0, "major");

describe("what sounds together on a standard C harp", () => {
  const all = neighbourSonorities(harp("C"), C_MAJOR);
  const at = (breath: string, ...holes: number[]) => {
    const found = all.find((one) => one.breath === breath && one.holes.join() === holes.join());
    if (found === undefined) throw new Error(`${breath} ${holes} is not there`);
    return found;
  };

  test("every two, three and four neighbours of either breath are there", () => {
    expect(all).toHaveLength(2 * (9 + 8 + 7)); // [calc] ten holes: 9 pairs, 8 threes, 7 fours a breath
  });

  // [calc] from the note table, section 1 of the fact sheet; names as players and tonal 6.4.3 [X] give them.
  test.each([
    ["blow", [1, 2, 3], "CM", "I"],
    ["blow", [2, 3, 4], "CM/E", "I"],
    ["blow", [3, 4, 5], "CM/G", "I"],
    ["draw", [2, 3, 4], "GM", "V"],
    ["draw", [1, 2, 3, 4], "GM/D", "V"],
    ["draw", [2, 3, 4, 5], "G7", "V7"],
    ["draw", [3, 4, 5], "Bdim", "vii°"],
    ["draw", [4, 5, 6], "Dm", "ii"],
    ["draw", [3, 4, 5, 6], "Bm7b5", "viiø7"],
    ["draw", [8, 9, 10], "Dm", "ii"],
  ] as const)("%s %j is %s, %s of C major", (breath, holes, chord, numeral) => {
    const found = at(breath, ...holes);
    expect(found.chordNames[0]).toBe(chord);
    expect(found.numeral).toBe(numeral);
  });

  test("every chord name told holds just the notes that sound, as tonal 6.4.3 spells it [X]", () => {
    const named = all.flatMap((one) => one.chordNames.map((name) => ({ name, notes: one.notes })));
    expect(named.length).toBeGreaterThan(40);
    for (const { name, notes } of named) {
      const [chord = "", bass] = name.split("/");
      const spelled = [...Chord.get(chord).notes, ...(bass === undefined ? [] : [bass])];
      const theirs = new Set(spelled.map((note) => Note.chroma(note)));
      expect([...theirs].sort(), name).toEqual([...new Set(notes.map(pitchClass))].sort());
      if (bass !== undefined) expect(Note.chroma(bass)).toBe(pitchClass(Math.min(...notes)));
    }
  });

  test("split octaves are the clean ones, with two holes blocked below and three above", () => {
    const octaves = splitOctaves(harp("C"), C_MAJOR).map((one) => `${one.breath} ${one.holes.join("-")}`);
    // [calc] equal names in the note table: every blow hole three on; draw 1-4, then four on.
    expect(octaves).toEqual([
      "blow 1-4",
      "blow 2-5",
      "blow 3-6",
      "blow 4-7",
      "blow 5-8",
      "blow 6-9",
      "blow 7-10",
      "draw 1-4",
      "draw 3-7",
      "draw 4-8",
      "draw 5-9",
      "draw 6-10",
    ]);
    expect(splitOctaves(harp("C"), C_MAJOR).find((one) => one.breath === "draw")?.blocked).toEqual([2, 3]);
  });

  test("equal thirds beat, just ones stand still", () => {
    const third = (one: ReturnType<typeof at>) => one.intervals[0];
    // [calc] C4 = 261.63 Hz, E4 = 329.63 Hz: |5 x 261.626 - 4 x 329.628| = 10.38 beats a second.
    expect(third(at("blow", 1, 2))).toMatchObject({ name: "3M", ratio: "5/4" });
    expect(third(at("blow", 1, 2))?.beatsPerSecond).toBeCloseTo(10.38, 2);
    const just = withTemperament(harp("C"), { kind: "scheme", scheme: "just-first-position" });
    expect(sonorityOf(just, C_MAJOR, "blow", [1, 2])?.intervals[0]?.beatsPerSecond).toBeCloseTo(0, 9);
    expect(sonorityOf(just, C_MAJOR, "blow", [1, 2, 3])?.intervals.map((one) => one.name)).toEqual([
      "3M",
      "5P",
      "3m",
    ]);
  });

  test("the pure-seventh scheme makes 2 to 5 draw a 4:5:6:7", () => {
    // Fact sheet, section 3: "draw chord as 4:5:6:7" [F 19]; the seventh has no ratio here, the others stand still.
    const pure = withTemperament(harp("C"), { kind: "scheme", scheme: "just-sevenths" });
    const chord = sonorityOf(pure, C_MAJOR, "draw", [2, 3, 4, 5]);
    const upper = chord?.intervals.filter((one) => one.highHole < 5);
    expect(upper).toHaveLength(3);
    for (const one of upper ?? []) expect(one.beatsPerSecond).toBeCloseTo(0, 9);
  });

  test("holes without a reed make no chord", () => {
    expect(sonorityOf(harp("C"), C_MAJOR, "blow", [10, 11])).toBeNull();
  });
});

describe("numerals", () => {
  // Common practice [P]: capital for a major third, small for a minor; the number counts degrees of the mode.
  test.each([
    ["G7", "C", "major", "V7"],
    ["Dm7", "C", "major", "ii7"],
    ["Cmaj7", "C", "major", "Imaj7"],
    ["BbM", "C", "major", "bVII"],
    ["FM", "G", "mixolydian", "VII"],
    ["F#dim", "G", "mixolydian", "#vii°"],
    ["GM", "A", "minor", "VII"],
    ["FM/A", "A", "minor", "VI"],
    ["EM", "A", "minor", "V"],
    ["Dm6/A", "C", "major", "iiadd6"],
    ["Caug", "C", "major", "I+"],
    ["C5/G", "C", "major", "I5"],
  ] as const)("%s in %s %s is %s", (chord, home, mode, numeral) => {
    const homes = { C: 0, G: 7, A: 9 };
    expect(romanNumeral(chord, modeOn(homes[home], mode))).toBe(numeral);
  });

  test("what is no chord has none", () => {
    expect(romanNumeral("moon", C_MAJOR)).toBeNull();
  });

  test("a root outside the mode is told against the mode's own degree", () => {
    expect(numeralOf(11, modeDegrees("minor"), true)).toBe("#vii"); // [calc] the seventh of minor is 10
    expect(numeralOf(5, modeDegrees("lydian"), false)).toBe("bIV"); // [calc] the fourth of Lydian is 6
    expect(numeralOf(1, modeDegrees("major pentatonic"), false)).toBe("bII");
  });
});

describe("which triads a layout has", () => {
  const summary = (id: string, home: number, mode: "major" | "minor" | "mixolydian") => {
    const layout = stockLayout(id);
    if (layout === null) throw new Error(`no layout ${id}`);
    return triadReports(inKey(layout, "C"), modeOn(home, mode)).map(
      (triad) => `${triad.numeral} ${triad.has}`,
    );
  };

  test("a standard harp in its own key has I, ii and V whole and the others in part", () => {
    // [calc] from the note table: C E G blow; D F A draw 4-6, 8-10; G B D draw 1-4; B D F draw 3-5, 7-9.
    expect(summary("standard", 0, "major")).toEqual([
      "I complete",
      "ii complete",
      "iii partial",
      "IV partial",
      "V complete",
      "vi partial",
      "vii° complete",
    ]);
  });

  test("in second position it has the I on 1 to 4 draw and the IV on every blow hole", () => {
    const [one, , , four] = triadReports(harp("C"), modeOn(7, "mixolydian"));
    expect(one).toMatchObject({ numeral: "I", noteNames: ["G", "B", "D"] });
    expect(one?.complete).toEqual([{ breath: "draw", holes: [1, 2, 3, 4], lacks: [] }]);
    expect(four).toMatchObject({ numeral: "IV", noteNames: ["C", "E", "G"], has: "complete" });
    expect(four?.complete[0]?.holes).toHaveLength(10);
  });

  test("the harmonic minor layout has its minor i, its diminished ii and a major V", () => {
    // [calc] C Eb G blow; D F Ab draw 4-6; G B D draw 2-4.
    const layout = stockLayout("harmonic-minor");
    if (layout === null) throw new Error("no layout");
    const triads = triadReports(inKey(layout, "C"), modeOn(0, "harmonic minor"));
    expect(triads.map((triad) => triad.numeral)).toEqual(["i", "ii°", "III+", "iv", "V", "VI", "vii°"]);
    expect(triads.filter((triad) => triad.has === "complete").map((triad) => triad.numeral)).toEqual([
      "i",
      "ii°",
      "V",
      "vii°",
    ]);
  });

  test("scales of five or six notes take the triads of major or minor", () => {
    const numerals = (mode: "major pentatonic" | "blues") =>
      triadReports(harp("C"), modeOn(0, mode)).map((triad) => triad.numeral);
    expect(numerals("major pentatonic")).toEqual(["I", "ii", "iii", "IV", "V", "vi", "vii°"]);
    expect(numerals("blues")).toEqual(["i", "ii°", "III", "iv", "v", "VI", "VII"]);
  });

  test("places on any layout sound nothing but the triad, all of it where they say so", () => {
    fc.assert(
      fc.property(anyHarp, (one) => {
        for (const triad of triadReports(one, modeOn(pitchClass(one.keyNote), "major"))) {
          for (const place of [...triad.complete, ...triad.partial]) {
            const sounds = place.holes.map((hole) => one.layout.holes[hole - 1]?.[place.breath] ?? null);
            const names = new Set(sounds.map((reed) => pitchClass(one.keyNote + Number(reed))));
            expect(sounds).not.toContain(null);
            expect(names.size).toBeGreaterThanOrEqual(3 - place.lacks.length);
            expect(place.holes.length).toBeGreaterThanOrEqual(2);
          }
        }
      }),
    );
  });
});

describe("on any layout", () => {
  test("transposing a harp transposes what sounds and keeps every numeral and interval", () => {
    fc.assert(
      fc.property(anyLayout, fc.constantFrom(...KEYS_BY_REGISTER), (layout, key) => {
        const from = harpInKey(layout, "G");
        const to = harpInKey(layout, key);
        if (from === null || to === null) throw new Error("both are keys");
        const before = neighbourSonorities(from, modeOn(pitchClass(from.keyNote), "major"));
        const after = neighbourSonorities(to, modeOn(pitchClass(to.keyNote), "major"));
        const by = to.keyNote - from.keyNote;
        expect(after.map((one) => one.notes)).toEqual(
          before.map((one) => one.notes.map((note) => note + by)),
        );
        expect(after.map((one) => one.intervals.map((interval) => interval.semitones))).toEqual(
          before.map((one) => one.intervals.map((interval) => interval.semitones)),
        );
        expect(
          triadReports(to, modeOn(pitchClass(to.keyNote), "minor")).map((triad) => triad.complete),
        ).toEqual(
          triadReports(from, modeOn(pitchClass(from.keyNote), "minor")).map((triad) => triad.complete),
        );
        // Beats rise with the frequencies: by the ratio of the key notes.
        const ratio = 2 ** (by / 12);
        after.forEach((one, index) => {
          one.intervals.forEach((interval, place) => {
            const its = before[index]?.intervals[place]?.beatsPerSecond ?? null;
            if (its === null) expect(interval.beatsPerSecond).toBeNull();
            else expect(interval.beatsPerSecond).toBeCloseTo(its * ratio, 6);
          });
        });
      }),
      { numRuns: 40 },
    );
  });
});
