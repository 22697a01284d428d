import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { changeReed, renameLayout } from "../../core/instrument/change-layout.ts";
import { BREATHS, layoutFromRows, reedAt, reedsOf } from "../../core/instrument/layout.ts";
import { EVERYTHING, PLAIN_ONLY } from "../../core/instrument/reed-actions.ts";
import { STANDARD_LAYOUT } from "../../core/instrument/stock-layouts.ts";
import { letterName } from "../../core/pitch/note-names.ts";
import { semitones } from "../../core/units.ts";
import {
  beginDraft,
  changeDraft,
  copyToChange,
  octaveReed,
  redoDraft,
  reedToLetter,
  renameDraft,
  stepReed,
  switchValve,
  takeReedOut,
  undoDraft,
  whyNotKeep,
  withFreeName,
  withHoles,
} from "../../renderer/instrument/layout-draft.ts";
import { nextPlace, reedRows } from "../../renderer/instrument/reed-rows.ts";

const copy = renameLayout(STANDARD_LAYOUT, "standard, changed");

/** Any reed of a ten-hole harp and a step up or down. */
const anyStep = fc.record({
  hole: fc.integer({ min: 1, max: 10 }),
  breath: fc.constantFrom(...BREATHS),
  by: fc.constantFrom(-1, 1),
});

describe("a layout being changed", () => {
  test("however many reeds were moved, taking everything back gives the layout begun with, and bringing it again the last", () => {
    fc.assert(
      fc.property(fc.array(anyStep, { minLength: 1, maxLength: 20 }), (steps) => {
        let draft = beginDraft(copy, null);
        for (const { hole, breath, by } of steps)
          draft = changeDraft(draft, stepReed(draft.now, hole, breath, by));
        const changed = draft.now;
        for (const _ of steps) draft = undoDraft(draft);
        expect(draft.now).toBe(copy);
        for (const _ of steps) draft = redoDraft(draft);
        expect(draft.now).toBe(changed);
      }),
    );
  });

  test("a new change after taking back leaves nothing to bring again", () => {
    const once = changeDraft(beginDraft(copy, null), stepReed(copy, 5, "draw", 1));
    const other = changeDraft(undoDraft(once), stepReed(copy, 3, "blow", 1));
    expect(redoDraft(other)).toBe(other);
  });

  test("a name typed letter by letter is taken back at once", () => {
    const named = ["m", "my", "my own"].reduce(renameDraft, beginDraft(copy, null));
    expect(named.now.name).toBe("my own");
    expect(undoDraft(named).now).toBe(copy);
  });

  test("a reed goes no further than a layout file can say, and an absent one begins on the hole's other note", () => {
    // [calc] bounds of a layout file: -24 and 60 semitones; 1 draw of the standard layout is 2.
    const low = Array.from({ length: 40 }).reduce((one: typeof copy) => stepReed(one, 1, "draw", -1), copy);
    expect(reedAt(low, 1, "draw")).toBe(-24);
    expect(stepReed(low, 1, "draw", -1)).toBe(low);
    const without = takeReedOut(copy, 1, "blow");
    expect(reedAt(without, 1, "blow")).toBeNull();
    expect(reedAt(stepReed(without, 1, "blow", 1), 1, "blow")).toBe(2);
  });

  test.each([
    // [calc] standard layout on C4 = 60: 4 draw D5 is 14, 3 blow G4 is 7, 1 draw D4 is 2.
    ["the letter it has already", 4, "draw", "d", 14],
    ["two semitones up", 4, "draw", "E", 16],
    ["three down, not nine up", 4, "draw", "b", 11],
    ["a fourth up, not a fifth down", 3, "blow", "c", 12],
    ["a fourth down, not a fifth up", 1, "draw", "a", -3],
  ] as const)("a letter sets a reed to the nearest such note: %s", (_, hole, breath, letter, sounds) => {
    expect(reedAt(reedToLetter(copy, hole, breath, letter, 60), hole, breath)).toBe(sounds);
  });

  test("a letter six semitones away both ways is taken upwards; a reed that is absent begins on the other of its hole", () => {
    // [calc] on G3 = 55, 3 draw is 55 + 11 = 66, F#4; C5 = 72 lies six above and C4 six below. 72 - 55 = 17.
    expect(reedAt(reedToLetter(copy, 3, "draw", "c", 55), 3, "draw")).toBe(17);
    const without = takeReedOut(copy, 1, "blow");
    // [calc] 1 draw on C is D4 = 2; E4 = 4 is the nearest E.
    expect(reedAt(reedToLetter(without, 1, "blow", "e", 60), 1, "blow")).toBe(4);
    expect(reedToLetter(copy, 1, "blow", "h", 60)).toBe(copy);
  });

  test("whatever the letter, the reed is at most a tritone from where it was, has that letter, and stays within bounds", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -24, max: 60 }),
        fc.integer({ min: 48, max: 67 }),
        fc.constantFrom(..."abcdefg"),
        (from, keyNote, letter) => {
          const layout = changeReed(copy, 2, "blow", semitones(from));
          const sounds = Number(reedAt(reedToLetter(layout, 2, "blow", letter, keyNote), 2, "blow"));
          expect(letterName(keyNote + sounds)).toBe(letter.toUpperCase());
          expect(sounds).toBeGreaterThanOrEqual(-24);
          expect(sounds).toBeLessThanOrEqual(60);
          if (from > -18 && from < 54) expect(Math.abs(sounds - from)).toBeLessThanOrEqual(6);
        },
      ),
    );
  });

  test("a reed goes up and down by octaves as far as a layout file can say, and an absent one stays away", () => {
    // [calc] 1 blow is 0: 12 up, five octaves up 60, no sixth.
    expect(reedAt(octaveReed(copy, 1, "blow", 1), 1, "blow")).toBe(12);
    const high = octaveReed(copy, 1, "blow", 5);
    expect(reedAt(high, 1, "blow")).toBe(60);
    expect(octaveReed(high, 1, "blow", 1)).toBe(high);
    const without = takeReedOut(copy, 1, "blow");
    expect(octaveReed(without, 1, "blow", -1)).toBe(without);
  });

  test("the last reed of all cannot be taken out, nor with it the last hole that has one", () => {
    const single = layoutFromRows("x", "x", { blow: [null, 4], draw: [null, null] });
    expect(takeReedOut(single, 2, "blow")).toBe(single);
    expect(reedsOf(withHoles(single, 1))).toHaveLength(1);
  });

  test("a valve is put on a reed and taken off again, and never on a reed that is not there", () => {
    const valved = switchValve(copy, 3, "draw");
    expect(valved.holes[2]?.valved).toEqual(["draw"]);
    expect(switchValve(valved, 3, "draw")).toEqual(copy);
    const without = takeReedOut(copy, 3, "draw");
    expect(switchValve(without, 3, "draw")).toBe(without);
  });

  test.each([1, 4, 12, 16])(
    "a layout can be given %d holes and keeps the reeds of those that stay",
    (count) => {
      const changed = withHoles(copy, count);
      expect(changed.holes).toHaveLength(count);
      expect(changed.holes.slice(0, 10)).toEqual(copy.holes.slice(0, count));
    },
  );
});

describe("the name of a layout of one's own", () => {
  test.each([
    ["", /Give the layout a name/],
    ["   ", /Give the layout a name/],
    ["x".repeat(81), /80 characters/],
    ["standard", /catalogue/],
    ["Taken already", /Another layout of yours/],
  ])("%j is refused in one sentence", (name, words) => {
    const named = renameDraft(beginDraft(copy, null), name).now;
    const taken = renameDraft(beginDraft(copy, null), "taken already").now;
    expect(whyNotKeep(named, [taken])).toMatch(words);
  });

  test("a free name is not refused, and a taken one read from a file gets a number", () => {
    expect(whyNotKeep(copy, [])).toBeNull();
    expect(withFreeName(copy, [])).toBe(copy);
    expect(withFreeName(copy, [copy]).name).toBe("standard, changed 2");
    const long = renameDraft(beginDraft(copy, null), "x".repeat(80)).now;
    const second = withFreeName(long, [long]);
    expect(second.name).toHaveLength(80);
    expect(second.id).not.toBe(long.id);
    expect(whyNotKeep(second, [long])).toBeNull();
  });
});

describe("a copy to change", () => {
  test("is named after its layout, and numbered when that name is taken, however long it is", () => {
    const first = copyToChange(STANDARD_LAYOUT, []);
    expect(first.name).toBe("standard, changed");
    expect(copyToChange(STANDARD_LAYOUT, [first]).name).toBe("standard, changed 2");
    const long = renameDraft(beginDraft(copy, null), "x".repeat(80)).now;
    const copies = [long];
    for (let n = 0; n < 12; n++) copies.push(copyToChange(long, copies));
    expect(new Set(copies.map((one) => one.id)).size).toBe(13);
    for (const one of copies.slice(1)) expect(whyNotKeep(one, [long])).toBeNull();
  });
});

describe("the rows of the picture", () => {
  test("the standard layout has three rows of draw bends, two of blow bends, overblows and overdraws outermost", () => {
    // [F trade table of stock bends] 3 draw bends three semitones, 10 blow two; overblows 1 to 6, overdraws 7 to 10.
    const { above, below } = reedRows(STANDARD_LAYOUT, EVERYTHING);
    expect(above.map((row) => row.words)).toEqual(["overblow", "blow, bent 2", "blow, bent 1", "blow"]);
    expect(below.map((row) => row.words)).toEqual([
      "draw",
      "draw, bent 1",
      "draw, bent 2",
      "draw, bent 3",
      "overdraw",
    ]);
    const holesOf = (words: string) =>
      [...above, ...below]
        .find((row) => row.words === words)
        ?.cells.flatMap((cell) => (cell === null ? [] : [cell.action.hole]));
    expect(holesOf("draw, bent 3")).toEqual([3]);
    expect(holesOf("draw, bent 2")).toEqual([2, 3]);
    expect(holesOf("blow, bent 2")).toEqual([10]);
    expect(holesOf("overblow")).toEqual([1, 2, 3, 4, 5, 6]);
  });

  test("a player of plain notes sees the two rows of reeds", () => {
    const { above, below } = reedRows(STANDARD_LAYOUT, PLAIN_ONLY);
    expect([...above, ...below].map((row) => row.words)).toEqual(["blow", "draw"]);
  });

  test("arrows pass over places without a note and stop at the ends", () => {
    const { above, below } = reedRows(STANDARD_LAYOUT, EVERYTHING);
    const rows = [...above, ...below];
    // Hole 5 has no draw bend; its overdraw row neither.
    const draw5 = { row: "draw-plain-0", hole: 5 };
    expect(nextPlace(rows, draw5, 1, 0)).toBe(draw5);
    // From 2 draw bent 2 the next to the right is 3 draw bent 2, and then nothing.
    const bent3 = nextPlace(rows, { row: "draw-bend-2", hole: 2 }, 0, 1);
    expect(bent3).toEqual({ row: "draw-bend-2", hole: 3 });
    expect(nextPlace(rows, bent3, 0, 1)).toBe(bent3);
    // Upwards from 6 draw bent 1: 6 draw, 6 blow, then its overblow past two rows of blow bends it has not.
    const up = (from: { row: string; hole: number }) => nextPlace(rows, from, -1, 0);
    const blow6 = up(up({ row: "draw-bend-1", hole: 6 }));
    expect(blow6).toEqual({ row: "blow-plain-0", hole: 6 });
    expect(up(blow6)).toEqual({ row: "blow-overblow-0", hole: 6 });
  });
});
