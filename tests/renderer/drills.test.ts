import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { DANCES } from "../../core/exercise/dance-grids.ts";
import type { DrillKind } from "../../core/exercise/drill-spec.ts";
import { DRILL_KINDS } from "../../core/exercise/exercise.ts";
import { ACCENTS, NOTES_PER_BEAT } from "../../core/exercise/rhythm.ts";
import { harpInKey, KEYS_BY_REGISTER, REGISTERS } from "../../core/instrument/harp.ts";
import { actionNote } from "../../core/instrument/reed-actions.ts";
import { STANDARD_LAYOUT, STOCK_LAYOUTS } from "../../core/instrument/stock-layouts.ts";
import { SCHEME_IDS } from "../../core/pitch/tuning-schemes.ts";
import { optionsOfKind } from "../../electron/commands/drill-kinds.ts";
import { danceOf, withDance } from "../../renderer/drills/dance-choice.ts";
import { choiceOfSettings, type DrillChoice, FIRST_CHOICE } from "../../renderer/drills/drill-choice.ts";
import { exerciseOfChoice } from "../../renderer/drills/exercise-of-choice.ts";
import { KIND_PARTS } from "../../renderer/drills/kind-choices.tsx";
import { EMPTY_SHELF, withPosition } from "../../renderer/drills/shelf.ts";
import { linesInSight, sheetLines } from "../../renderer/practice/sheet-shape.ts";

/** Any choice: every field at one of its values, some of which fit no harp or no mode. */
const choices: fc.Arbitrary<DrillChoice> = fc
  .record({
    layout: fc.constantFrom(...STOCK_LAYOUTS.map((layout) => layout.id)),
    key: fc.constantFrom(...KEYS_BY_REGISTER),
    register: fc.constantFrom(...REGISTERS),
    temperament: fc.constantFrom("equal" as const, ...SCHEME_IDS),
    position: fc.integer({ min: 1, max: 12 }),
    degrees: fc.constantFrom("1 2 3 4 5 6 b7", "1 b3 4 5 b7", "1 2 x", ""),
    bendHoles: fc.constantFrom("", "", "2 3", "all over"),
    overbends: fc.boolean(),
    overbendHoles: fc.constantFrom("", "", "4 6", "words"),
    beatsPerBar: fc.integer({ min: 0, max: 16 }),
    countInBeats: fc.integer({ min: 0, max: 16 }),
    fromDegree: fc.constantFrom("1", "3", "b3", "5"),
    degree: fc.constantFrom("1", "4", "b7"),
    numerals: fc.constantFrom("", "I-IV-I", "i-iv-i", "X"),
    chordFigure: fc.constantFrom("up" as const, "up-and-back" as const),
    accents: fc.constantFrom(...ACCENTS),
    notesPerBeat: fc.constantFrom(...NOTES_PER_BEAT),
    octaves: fc.constantFrom(1 as const, 2 as const, "plain range" as const),
    start: fc.constantFrom("easiest" as const, "lowest" as const),
    rhythm: fc.constantFrom("even" as const, "dotted" as const, "swung" as const),
    swing: fc.constantFrom(1, 1.5, 2.5),
    bendFigure: fc.constantFrom("hold" as const, "from-above" as const, "match" as const, "ladder" as const),
    technique: fc.constantFrom("bend" as const, "bend" as const, "overblow" as const, "overdraw" as const),
    bendHole: fc.constantFrom(0, 0, 3, 6, 14),
    bendBreath: fc.constantFrom("either" as const, "blow" as const, "draw" as const),
    bendDepth: fc.constantFrom(0, 1, 2),
    rounds: fc.constantFrom("1 2 3 4", "2 6", "4 1", "fast"),
    roundBeats: fc.integer({ min: 1, max: 64 }),
    largestLeap: fc.constantFrom(0, 1, 3),
    noteBeats: fc.constantFrom(0.5, 1, 2),
    callBeats: fc.constantFrom(0, 1, 2),
    holdBeats: fc.constantFrom(0.5, 2, 4),
  })
  .chain((fields) =>
    fc
      .tuple(fc.constantFrom(...DRILL_KINDS), fc.constantFrom(...DANCES, "none" as const), fc.boolean())
      .map(([kind, dance, isSet]) => {
        const own = withPosition({ ...FIRST_CHOICE, ...fields, kind }, fields.position, EMPTY_SHELF);
        const chosen = isSet && fields.position % 3 === 0 ? { ...own, mode: "degrees" as const } : own;
        return dance === "none" ? chosen : { ...withDance(chosen, dance), bpm: 60 };
      }),
  );

/** The choice of the window that an option of the command is. */
function fieldOf(option: string, kind: DrillKind): keyof DrillChoice {
  const OWN: Readonly<Record<string, keyof DrillChoice>> = {
    "notes-per-beat": "notesPerBeat",
    "from-degree": "fromDegree",
    chord: "chordSize",
    hole: "bendHole",
    bent: "bendDepth",
    hold: "holdBeats",
    rest: "restBeats",
    target: "targetShown",
    "round-beats": "roundBeats",
    tone: "toneBeats",
    "target-as": "targetAs",
    "largest-leap": "largestLeap",
    "note-beats": "noteBeats",
    "call-beats": "callBeats",
    chords: "backingChords",
    tune: "backingChords",
    number: "backingChords",
    "most-holes": "mostHoles",
    partial: "partialChords",
  };
  if (option === "figure")
    return kind === "bend" ? "bendFigure" : kind === "pattern" ? "patternFigure" : "chordFigure";
  if (option === "breath")
    return kind === "bend" ? "bendBreath" : kind === "hole-jumps" ? "jumpBreath" : "runBreath";
  return OWN[option] ?? (option as keyof DrillChoice);
}

describe("what can be chosen on the drill screen", () => {
  test("gives an exercise the harp can sound, or a reason in words, for every kind", () => {
    const made = new Set<string>();
    fc.assert(
      fc.property(choices, (choice) => {
        const result = exerciseOfChoice(choice, 440, EMPTY_SHELF);
        if (result.kind === "impossible") {
          expect(result.reason.length).toBeGreaterThan(10);
          expect(result.reason).not.toMatch(/undefined|NaN|\[object/);
          return;
        }
        made.add(choice.kind);
        const overblown = result.exercise.notes.filter((note) => note.action.technique.startsWith("over"));
        if (!choice.overbends) expect(overblown).toEqual([]);
        if (choice.overbendHoles === "4 6") {
          for (const note of overblown) expect([4, 6]).toContain(note.action.hole);
        }
        const bent = result.exercise.notes.filter((note) => note.action.technique === "bend");
        if (choice.bendHoles === "2 3") for (const note of bent) expect([2, 3]).toContain(note.action.hole);
        expect(result.exercise.countInBeats).toBe(choice.countInBeats);
        for (const note of result.exercise.notes)
          expect(actionNote(result.exercise.harp, note.action)).toBe(note.midi);
      }),
      { numRuns: 1500 },
    );
    expect([...made].sort()).toEqual([...DRILL_KINDS].sort());
  });

  test("a dance brings its grid, and is shown as long as the choice is on it", () => {
    // Trade facts 6: double jig in 6/8, dotted crotchet 116-124 [F 42]; three quavers to the beat [calc].
    const jig = withDance(FIRST_CHOICE, "jig");
    expect([jig.noteValue, jig.beatsPerBar, jig.notesPerBeat, jig.bpm]).toEqual(["3/8", 2, 3, 116]);
    for (const dance of DANCES) {
      const chosen = withDance(FIRST_CHOICE, dance);
      expect(danceOf(chosen)).toBe(dance);
      expect(danceOf({ ...chosen, bpm: 70 })).toBe(dance);
      expect(danceOf({ ...chosen, accents: "off-beats" })).toBe("none");
      expect(danceOf(withDance(chosen, "none"))).toBe("none");
    }
  });

  test("a set of degrees stays through a change of position, and its own degrees are begun on", () => {
    const set = { ...FIRST_CHOICE, mode: "degrees" as const, degrees: "1 b3 4 5 b7", fromDegree: "3" };
    expect(withPosition(set, 3, EMPTY_SHELF).mode).toBe("degrees");
    // Third position of a stock harp is Dorian in plain notes [F 22], so these five of its degrees are plain too.
    const made = exerciseOfChoice({ ...set, position: 3, direction: "up" }, 440, EMPTY_SHELF);
    if (made.kind === "impossible") throw new Error(made.reason);
    expect(made.exercise.mode).toBe("1 b3 4 5 b7");
    expect(made.exercise.notes[0]?.degree).toBe("b3");
    expect(exerciseOfChoice({ ...set, degrees: "1 2 z" }, 440, EMPTY_SHELF)).toEqual({
      kind: "impossible",
      reason: expect.stringMatching(/^"z" is not a degree/),
    });
  });

  test("every choice the command has for a kind is asked for in the window", () => {
    for (const kind of DRILL_KINDS) {
      const { first, more } = KIND_PARTS[kind];
      const asked = new Set([...first, ...more].flatMap((one) => one.fields));
      expect(optionsOfKind(kind).length).toBeGreaterThan(3);
      for (const option of optionsOfKind(kind)) {
        const field = fieldOf(option, kind);
        expect(asked.has(field), `${kind} --${option} is ${field}`).toBe(true);
        expect(field in FIRST_CHOICE).toBe(true);
      }
    }
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

  test("whatever is chosen comes back as it was", () => {
    fc.assert(
      fc.property(choices, (choice) => {
        expect(choiceOfSettings(JSON.parse(JSON.stringify(choice)))).toEqual(choice);
      }),
      { numRuns: 200 },
    );
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
