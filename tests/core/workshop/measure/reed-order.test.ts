import { describe, expect, test } from "vitest";
import {
  type PlacedNote,
  placeNotes,
  wholeShiftCents,
} from "../../../../core/workshop/measure/reed-order.ts";
import { harpDoubt } from "../../../../core/workshop/measure/right-harp.ts";
import { harp } from "../../../support/harps.ts";

/** [F1] [F2] The standard layout on C, by hole: what each reed sounds. */
const BLOW = [60, 64, 67, 72, 76, 79, 84, 88, 91, 96];
const DRAW = [62, 67, 71, 74, 77, 81, 83, 86, 89, 93];

const reed = (name: string): number => {
  const [hole = "", breath] = name.split(" ");
  return (breath === "blow" ? BLOW : DRAW)[Number(hole) - 1] ?? 0;
};
const HOLES = Array.from({ length: 10 }, (_, n) => n + 1);
const WALK = HOLES.flatMap((hole) => [`${hole} blow`, `${hole} draw`]);
const thrice = (names: readonly string[]) => names.flatMap((name) => [name, name, name]);
/** A reed's own tuning, within 8 cents, and its notes within a cent: from its name alone. */
const ownCents = (name: string) => ((name.charCodeAt(0) * 7 + name.length * 5) % 17) - 8;
const sounding = (names: readonly string[], off: Readonly<Record<string, number>> = {}) =>
  names.map((name, n) => ({ midi: reed(name) + (off[name] ?? ownCents(name) + (n % 3) * 0.4) / 100 }));

const told = ({ place }: PlacedNote) => (place === null ? "none" : `${place.hole} ${place.breath}`);
const place = (notes: readonly { midi: number }[], usual = 3) =>
  placeNotes(harp("C"), notes, usual, wholeShiftCents(harp("C"), notes));

describe("which reed a note of a recorded walk is", () => {
  test.each<[string, readonly string[]]>([
    ["hole by hole, blow before draw, three notes each", thrice(WALK)],
    [
      "all blow reeds, then all draw reeds",
      thrice(
        [...WALK].sort(
          (a, b) =>
            a.slice(-4).localeCompare(b.slice(-4)) || Number(a.split(" ")[0]) - Number(b.split(" ")[0]),
        ),
      ),
    ],
    ["from hole 10 down", thrice([...WALK].reverse())],
    ["draw before blow in every hole", thrice(HOLES.flatMap((hole) => [`${hole} draw`, `${hole} blow`]))],
    ["5 draw six times", [...thrice(WALK.slice(0, 10)), ...thrice(["5 draw"]), ...thrice(WALK.slice(10))]],
    ["back to 3 draw once more at the end", [...thrice(WALK), ...thrice(["3 draw"])]],
    [
      "4 draw to 6 blow left out",
      thrice(WALK.filter((name) => !["4 draw", "5 blow", "5 draw", "6 blow"].includes(name))),
    ],
    ["only the high end", thrice(WALK.slice(14))],
  ])("%s", (_, names) => {
    expect(place(sounding(names)).map(told)).toEqual(names);
  });

  test("one note each", () => {
    expect(place(sounding(WALK), 1).map(told)).toEqual(WALK);
  });

  test("a harp tuned 25 cents sharp as a whole is told all the same", () => {
    const names = thrice(WALK);
    const notes = sounding(names).map(({ midi }) => ({ midi: midi + 0.25 }));
    expect(Math.abs(wholeShiftCents(harp("C"), notes) - 25)).toBeLessThan(8);
    expect(place(notes).map(told)).toEqual(names);
  });

  test("a reed 70 cents flat is told by its place in the order", () => {
    const names = thrice(WALK);
    expect(place(sounding(names, { "6 draw": -70 })).map(told)).toEqual(names);
  });

  test("a bend between two reeds is none of them", () => {
    const names = [...thrice(WALK.slice(0, 6)), ...thrice(WALK.slice(6))];
    const notes = sounding(names);
    // [calc] 3 draw, B4 = 71, bent by one and a half semitones: nearer than 50 cents to no reed of the harp.
    const slipped = [...notes.slice(0, 18), { midi: 69.5 }, ...notes.slice(18)];
    const answers = place(slipped);
    expect(told(answers[18] ?? { place: null, orElse: null })).toBe("none");
    expect(answers.filter((_, n) => n !== 18).map(told)).toEqual(names);
  });

  test("2 draw or 3 blow, the same note, cannot be told where one of them was left out", () => {
    const without = thrice(WALK.filter((name) => name !== "3 blow"));
    const answers = place(sounding(without));
    const ofG = answers.slice(9, 12);
    expect(ofG.every(({ orElse }) => orElse !== null)).toBe(true);
    // Everything else is sure.
    expect(answers.filter((_, n) => n < 9 || n > 11).every(({ orElse }) => orElse === null)).toBe(true);
  });

  test("and where both are there, each three times, they are told", () => {
    const answers = place(sounding(thrice(WALK), { "2 draw": 3, "3 blow": 3 }));
    expect(answers.slice(9, 15).map(told)).toEqual(thrice(["2 draw", "3 blow"]));
    expect(answers.slice(9, 15).every(({ orElse }) => orElse === null)).toBe(true);
  });

  test("no notes, no answers", () => {
    expect(place([])).toEqual([]);
  });
});

describe("a walk of another harp than was told", () => {
  const walk = thrice(WALK).map((name, n) => ({ midi: reed(name) + ((n % 3) * 0.4 + ownCents(name)) / 100 }));

  // Every other stock key, with the walk of a C harp.
  test.each(["G", "Ab", "A", "Bb", "B", "Db", "D", "Eb", "E", "F", "F#"])(
    "told as %s is doubted, and C fits",
    (key) => {
      const doubt = harpDoubt(harp(key), walk, 3);
      expect(doubt?.of).toBe(60);
      expect(doubt?.better?.key).toBe("C");
    },
  );

  test("told as what it is, or with one reed fallen, is not", () => {
    expect(harpDoubt(harp("C"), walk, 3)).toBeNull();
    const fallen = walk.map((note, n) => (n >= 21 && n < 24 ? { midi: note.midi - 1 } : note));
    expect(harpDoubt(harp("C"), fallen, 3)).toBeNull();
    expect(harpDoubt(harp("D"), walk.slice(0, 3), 3)).toBeNull();
  });
});
