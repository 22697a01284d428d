import { describe, expect, test } from "vitest";
import { playingSeconds } from "../../../core/exercise/exercise.ts";
import { readTab } from "../../../core/instrument/tab.ts";
import { bpm } from "../../../core/units.ts";
import { harp } from "../../support/harps.ts";
import { lengths, made, names, reasonAgainst, starts, tabs } from "./make.ts";

const action = (text: string) => {
  const read = readTab(text);
  if (read === null) throw new Error(`"${text}" is not tab`);
  return read;
};

describe("bend drills", () => {
  const bend = { holdBeats: 2, restBeats: 2, repeats: 2, targetShown: true, seed: 1 };

  test("reach and hold begins every try on a bar line and rests after it", () => {
    const exercise = made("bend", { ...bend, figure: "hold", hole: 3, bentSemitones: 2 });
    expect(tabs(exercise)).toBe("-3'' -3''");
    expect(names(exercise)).toBe("A4 A4"); // trade facts 2: three draw bends to Bb4, A4, Ab4
    expect(starts(exercise)).toEqual([0, 4]); // [calc] 2 beats held and 2 of rest fill a bar of 4
    expect(exercise.trains).toBe(
      "Reaching 3 draw, bent 2 semitones (A4) from silence and holding it in tune, with the target to be seen.",
    );
  });

  test("from above the plain note is a short start and the bend is held", () => {
    const exercise = made("bend", { ...bend, figure: "from-above", hole: 2, bentSemitones: 2, repeats: 1 });
    expect(tabs(exercise)).toBe("-2 -2''");
    expect(lengths(exercise)).toEqual([1, 2]);
  });

  test("a bend is matched to the same pitch sounded plain, else to its octave", () => {
    // [calc] two draw bent a tone on a C harp is F4; the only plain F are 5 draw (F5) and 9 draw (F6): the nearer octave.
    const octave = made("bend", { ...bend, figure: "match", hole: 2, bentSemitones: 2, repeats: 1 });
    expect(names(octave)).toBe("F5 F4 F5 F4");
    // [calc] Bb4 has no plain twin on a stock C harp, whose plain notes are those of C major.
    expect(reasonAgainst("bend", { ...bend, figure: "match", hole: 3, bentSemitones: 1 })).toMatch(
      /no bend of hole 3 by 1 semitone that also sounds plain/,
    );
  });

  test("the ladder of three draw stops on Bb4, A4 and Ab4 and comes back", () => {
    const exercise = made("bend", { ...bend, figure: "ladder", hole: 3, repeats: 1 });
    expect(tabs(exercise)).toBe("-3 -3' -3'' -3''' -3'' -3' -3");
    expect(exercise.notes.map((note) => note.midi)).toEqual([71, 70, 69, 68, 69, 70, 71]); // trade facts 2: B4 down to Ab4
  });

  test("overblows are held by those who can, and a bend nobody has is refused", () => {
    const abilities = { bends: true, overbends: true };
    const over = made("bend", { ...bend, figure: "hold", technique: "overblow", hole: 6, abilities });
    expect(names(over)).toBe("Bb5 Bb5"); // trade facts 2: six overblow gives Bb5, the b7 of C
    expect(reasonAgainst("bend", { ...bend, figure: "hold", technique: "overblow" })).toMatch(
      /without overblows/,
    );
    expect(reasonAgainst("bend", { ...bend, figure: "hold", hole: 5 })).toBe(
      "there is no bend of hole 5 on a C harp without overblows", // trade facts 2: hole 5 has d = 1 and no bend
    );
    expect(reasonAgainst("bend", { ...bend, figure: "ladder", technique: "overblow" })).toMatch(
      /drill for bends/,
    );
  });

  test("what is left open is drawn by the seed, the same each time and not always the same", () => {
    const drawn = (seed: number) => tabs(made("bend", { ...bend, figure: "hold", seed }));
    const many = Array.from({ length: 30 }, (_, seed) => drawn(seed));
    expect(many).toEqual(Array.from({ length: 30 }, (_, seed) => drawn(seed)));
    expect(new Set(many).size).toBeGreaterThan(4);
  });

  test("with the target hidden the exercise says so", () => {
    expect(made("bend", { ...bend, figure: "hold", targetShown: false }).targetShown).toBe(false);
  });
});

describe("breath drills", () => {
  test("a pair goes back and forth in rounds of 1, 2 and 4 to the beat, each followed by as long a rest", () => {
    const exercise = made("breath-pair", {
      first: action("4"),
      second: action("-5"),
      rounds: [1, 2, 4],
      roundBeats: 4,
    });
    // [calc] rounds of 4 beats hold 4, 8 and 16 notes and begin at beats 0, 8 and 16.
    expect(lengths(exercise)).toEqual([...Array(4).fill(1), ...Array(8).fill(0.5), ...Array(16).fill(0.25)]);
    expect([0, 4, 12].map((index) => starts(exercise)[index])).toEqual([0, 8, 16]);
    expect(new Set(exercise.notes.map((note) => note.tab))).toEqual(new Set(["4", "-5"]));
    expect(exercise.caution).toMatch(/^Play relaxed\. Stop and rest if you feel light-headed/); // trade facts 11
  });

  test("a round longer than a minute without rest is refused", () => {
    const pair = { first: action("4"), second: action("-4"), rounds: [1] as const };
    const tempo = { bpm: bpm(60), noteValue: "1/4" } as const;
    expect(made("breath-pair", { ...pair, roundBeats: 60, tempo }).notes).toHaveLength(60); // [calc] 60 beats at 60
    expect(reasonAgainst("breath-pair", { ...pair, roundBeats: 61, tempo })).toMatch(
      /would last 61 s; .*rest/,
    );
  });

  test("rounds rise, the two notes differ, and both must be there", () => {
    const pair = { first: action("4"), second: action("-4"), rounds: [1, 2] as const, roundBeats: 4 };
    expect(reasonAgainst("breath-pair", { ...pair, rounds: [2, 1] })).toMatch(/rounds must rise/);
    expect(reasonAgainst("breath-pair", { ...pair, second: action("4") })).toBe(
      "the two notes are the same: 4 blow",
    );
    expect(reasonAgainst("breath-pair", { ...pair, second: action("4o") })).toBe(
      "4 overblow cannot be sounded on a C harp without overblows",
    );
  });

  const jumps = { notesPerBeat: 2, repeats: 1, direction: "up" } as const;
  test("jumps of one hole walk along the harp", () => {
    expect(tabs(made("hole-jumps", { ...jumps, jump: 1, breath: "blow" }))).toBe("1 2 3 4 5 6 7 8 9 10");
  });
  test("jumps of three holes go three up and two back", () => {
    expect(tabs(made("hole-jumps", { ...jumps, jump: 3, breath: "draw" }))).toBe(
      "-1 -4 -2 -5 -3 -6 -4 -7 -5 -8 -6 -9 -7 -10",
    );
  });
  test("up and down are two passes with a rest as long as the first between them", () => {
    const exercise = made("hole-jumps", { ...jumps, jump: 4, breath: "alternate", direction: "both" });
    expect(tabs(exercise)).toMatch(/^1 -5 2 -6 .* 6 -10 -10 6 .* -5 1$/);
    expect(starts(exercise)[12]).toBe(12); // [calc] 12 quavers last 6 beats; as long a rest ends on a bar line, beat 12
  });

  test("the longest run on one breath in second position is drawn, through every note the breath has", () => {
    // [calc] draw notes of a C harp, bends included, that belong to G mixolydian and rise through neighbouring holes.
    const exercise = made("one-breath", {
      position: 2,
      mode: "mixolydian",
      notesPerBeat: 2,
      breath: "longest",
      repeats: 1,
    });
    expect(tabs(exercise)).toMatch(/^-1 -2'' -2 -3'' -3 -4 -5 -6 -7 -8 -9 -10 -9/);
    expect(exercise.caution).toBeDefined();
  });

  test("a breath that would have to last too long is refused", () => {
    const tempo = { bpm: bpm(40), noteValue: "1/4" } as const;
    expect(reasonAgainst("one-breath", { notesPerBeat: 1, breath: "draw", repeats: 1, tempo })).toMatch(
      /one breath would have to last \d+\.\d s/,
    );
  });
});

describe("long tones and random notes", () => {
  const range = { octaves: 1, start: "easiest" } as const;

  test("long tones are held from bar line to bar line with rests between", () => {
    const exercise = made("long-tones", { ...range, direction: "up", toneBeats: 4, restBeats: 4 });
    expect(starts(exercise)).toEqual([0, 8, 16, 24, 32, 40, 48, 56]); // [calc] 4 beats held, 4 of rest
    expect(playingSeconds(exercise)).toBeCloseTo((60 * 60) / 90, 9); // [calc] 60 beats at 90
  });

  const random = { ...range, count: 40, seed: 7, noteBeats: 1, callBeats: 1 } as const;
  test("random notes never repeat at once, and the same seed gives the same notes", () => {
    const exercise = made("random-notes", { ...random, targetAs: "degree" });
    for (const note of exercise.notes.slice(1))
      expect(note.midi).not.toBe(exercise.notes[note.index - 1]?.midi);
    expect(made("random-notes", { ...random, targetAs: "degree" })).toEqual(exercise);
    expect(names(made("random-notes", { ...random, seed: 8, targetAs: "degree" }))).not.toBe(names(exercise));
  });

  test("every note of the scale is drawn about equally often", () => {
    // [calc] 500 draws from 8 notes, each 62.5 on average with a deviation of sqrt(500·1/8·7/8) = 7.4; four of those.
    const exercise = made("random-notes", { ...random, count: 500, targetAs: "name" });
    const counts = new Map<number, number>();
    for (const { midi } of exercise.notes) counts.set(midi, (counts.get(midi) ?? 0) + 1);
    expect(counts.size).toBe(8);
    for (const count of counts.values()) expect(Math.abs(count - 62.5)).toBeLessThan(30);
  });

  test("the widest move is kept", () => {
    const exercise = made("random-notes", { ...random, count: 200, largestLeap: 2, targetAs: "name" });
    const order = "C5 D5 E5 F5 G5 A5 B5 C6".split(" ");
    const places = exercise.notes.map((note) => order.indexOf(note.noteName));
    const moves = places.slice(1).map((place, before) => Math.abs(place - (places[before] ?? 0)));
    expect(Math.max(...moves)).toBe(2);
  });

  test("by ear each note is called first and answered a note's length later", () => {
    const exercise = made("random-notes", { ...random, targetAs: "heard" });
    expect(exercise.targetAs).toBe("heard");
    expect(exercise.notes.slice(0, 2).map((note) => [note.calledAtBeats, note.startBeats])).toEqual([
      [0, 1],
      [2, 3],
    ]);
    expect(reasonAgainst("random-notes", { ...random, targetAs: "heard", callBeats: 0.5 })).toMatch(
      /heard before it is played/,
    );
  });

  test("a harp tuned in pure thirds asks for its own thirds", () => {
    // [calc] trade facts 3: 5/4 above the key note is 13.69 cents flat.
    const just = { ...harp("C"), temperament: { kind: "scheme", scheme: "just-first-position" } } as const;
    const exercise = made("long-tones", {
      ...range,
      harp: just,
      direction: "up",
      toneBeats: 4,
      restBeats: 0,
    });
    expect(exercise.notes[2]?.noteName).toBe("E5");
    expect(exercise.notes[2]?.targetCents).toBeCloseTo(-13.69, 2);
  });
});
