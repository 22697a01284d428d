import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { EXERCISE_KINDS } from "../../core/exercise/exercise.ts";
import { harpInKey, KEYS_BY_REGISTER } from "../../core/instrument/harp.ts";
import { actionNote } from "../../core/instrument/reed-actions.ts";
import { STANDARD_LAYOUT, STOCK_LAYOUTS } from "../../core/instrument/stock-layouts.ts";
import { choiceOfSettings, type DrillChoice, FIRST_CHOICE } from "../../renderer/drills/drill-choice.ts";
import { exerciseOfChoice } from "../../renderer/drills/exercise-of-choice.ts";
import { EMPTY_SHELF, withPosition } from "../../renderer/drills/shelf.ts";
import { linesInSight, sheetLines } from "../../renderer/practice/sheet-shape.ts";

const choices: fc.Arbitrary<DrillChoice> = fc
  .record({
    layout: fc.constantFrom(...STOCK_LAYOUTS.map((layout) => layout.id)),
    key: fc.constantFrom(...KEYS_BY_REGISTER),
    position: fc.integer({ min: 1, max: 12 }),
    kind: fc.constantFrom(...EXERCISE_KINDS),
    overbends: fc.boolean(),
    overbendHoles: fc.constantFrom("", "4 6", "words"),
    fromDegree: fc.constantFrom("1" as const, "3" as const, "5" as const),
    accents: fc.constantFrom("none" as const, "beats" as const),
    notesPerBeat: fc.constantFrom(1 as const, 2 as const, 3 as const, 4 as const),
    octaves: fc.constantFrom(1 as const, 2 as const, "plain range" as const),
    rhythm: fc.constantFrom("even" as const, "dotted" as const, "swung 2:1" as const),
  })
  .map((part) => withPosition({ ...FIRST_CHOICE, ...part }, part.position, EMPTY_SHELF));

describe("what can be chosen on the drill screen", () => {
  test("gives an exercise the harp can sound, or a reason in words, for every kind", () => {
    const made = new Set<string>();
    fc.assert(
      fc.property(choices, (choice) => {
        const result = exerciseOfChoice(choice, 440, EMPTY_SHELF);
        if (result.kind === "impossible") {
          expect(result.reason.length).toBeGreaterThan(10);
          return;
        }
        made.add(choice.kind);
        const overblown = result.exercise.notes.filter((note) => note.action.technique.startsWith("over"));
        if (choice.overbendHoles === "4 6" && choice.kind !== "breath-pair") {
          for (const note of overblown) expect([4, 6]).toContain(note.action.hole);
        }
        for (const note of result.exercise.notes)
          expect(actionNote(result.exercise.harp, note.action)).toBe(note.midi);
      }),
      { numRuns: 400 },
    );
    expect([...made].sort()).toEqual([...EXERCISE_KINDS].sort());
  });

  test("a position brings its natural mode with it", () => {
    // Fact sheet, section 4: third position of a standard harp is Dorian [F 22].
    expect(withPosition(FIRST_CHOICE, 3, EMPTY_SHELF).mode).toBe("dorian");
    expect(withPosition(FIRST_CHOICE, 12, EMPTY_SHELF).mode).toBe("lydian");
  });

  test("kept choices come back, field by field where some are damaged", () => {
    expect(choiceOfSettings({ ...FIRST_CHOICE, key: "Bb", kind: "bend" })).toEqual({
      ...FIRST_CHOICE,
      key: "Bb",
      kind: "bend",
    });
    expect(choiceOfSettings({ key: "A", bpm: 9999, kind: "sneeze" })).toEqual({ ...FIRST_CHOICE, key: "A" });
    expect(choiceOfSettings(null)).toEqual(FIRST_CHOICE);
  });
});

describe("the player's own harps and layouts", () => {
  const own = { ...STANDARD_LAYOUT, id: "mine", name: "mine" };
  const harp = harpInKey(own, "A");
  if (harp === null) throw new Error("A is a key");
  const shelf = { layouts: [own], harps: [{ id: "h1", harp, note: "the loud one" }] };

  test("can be practised on, and an owned harp keeps its own pitch", () => {
    const onLayout = exerciseOfChoice({ ...FIRST_CHOICE, layout: "mine" }, 442, shelf);
    expect(onLayout.kind === "exercise" && onLayout.exercise.harp.layout.id).toBe("mine");
    const onHarp = exerciseOfChoice({ ...FIRST_CHOICE, ownHarp: "h1" }, 442, shelf);
    expect(onHarp.kind === "exercise" && [onHarp.exercise.harp.key, onHarp.exercise.harp.a4]).toEqual([
      "A",
      440,
    ]);
  });

  test("that are gone are said to be gone, or fall back to the stock harp", () => {
    const gone = exerciseOfChoice({ ...FIRST_CHOICE, layout: "mine" }, 440, EMPTY_SHELF);
    expect(gone).toEqual({ kind: "impossible", reason: 'the layout "mine" is no longer there' });
    const stock = exerciseOfChoice({ ...FIRST_CHOICE, ownHarp: "h1" }, 440, EMPTY_SHELF);
    expect(stock.kind === "exercise" && stock.exercise.harp.key).toBe("G");
  });
});

describe("the lines of the sheet", () => {
  test("hold at most sixteen notes where a bar does, and two lines are in sight, the first with the note being read", () => {
    const made = exerciseOfChoice(
      { ...FIRST_CHOICE, kind: "pattern", octaves: 2, notesPerBeat: 2 },
      440,
      EMPTY_SHELF,
    );
    if (made.kind === "impossible") throw new Error(made.reason);
    const lines = sheetLines(made.exercise);
    expect(lines.length).toBeGreaterThan(2);
    for (const line of lines) expect(line.to - line.from).toBeLessThanOrEqual(16);
    for (const note of made.exercise.notes) {
      const seen = linesInSight(lines, note.index);
      expect(seen).toHaveLength(2);
      expect(seen.some((line) => line.from <= note.index && note.index < line.to)).toBe(true);
    }
    expect(linesInSight(lines, made.exercise.notes.length + 5).at(-1)).toBe(lines.at(-1));
  });
});
