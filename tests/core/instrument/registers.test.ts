import { describe, expect, test } from "vitest";
import {
  HIGHEST_SOUND,
  harpInKey,
  harpName,
  KEYS_BY_REGISTER,
  LOWEST_SOUND,
  labelName,
  registerOf,
  registersOfKey,
  soundingRange,
} from "../../../core/instrument/harp.ts";
import { STANDARD_LAYOUT, stockLayout } from "../../../core/instrument/stock-layouts.ts";
import { STANDARD_A4 } from "../../../core/pitch/equal-temperament.ts";
import { midiOfName, noteName } from "../../../core/pitch/note-names.ts";
import { midi } from "../../../core/units.ts";
import { inKey } from "../../support/any-layout.ts";

const low = (key: string) => harpInKey(STANDARD_LAYOUT, key, STANDARD_A4, "low");
const high = (key: string) => harpInKey(STANDARD_LAYOUT, key, STANDARD_A4, "high");

describe("registers", () => {
  // Fact sheet, section 1: low F = F3, low D = D3, low C = C3; high G is G4 [M].
  test.each([
    ["C", "C3"],
    ["D", "D3"],
    ["F", "F3"],
    ["F#", "F#3"],
  ])("a low %s begins on %s", (key, name) => {
    expect(low(key)?.keyNote).toBe(midiOfName(name));
  });

  test("a high G begins on G4, and no other key is that high", () => {
    expect(high("G")?.keyNote).toBe(midiOfName("G4"));
    expect(KEYS_BY_REGISTER.filter((key) => high(key) !== null)).toEqual(["G"]);
  });

  test("low sets go from C to F sharp", () => {
    expect(KEYS_BY_REGISTER.filter((key) => low(key) !== null)).toEqual([
      "C",
      "Db",
      "D",
      "Eb",
      "E",
      "F",
      "F#",
    ]);
    expect(registersOfKey("D")).toEqual(["low", "usual"]);
    expect(registersOfKey("G")).toEqual(["usual", "high"]);
    expect(registersOfKey("A")).toEqual(["usual"]);
    expect(registersOfKey("H")).toEqual([]);
  });

  test("a key note may be given itself, if it has the key's name and is one there are harps on", () => {
    expect(harpInKey(STANDARD_LAYOUT, "C", STANDARD_A4, midi(48))?.keyNote).toBe(48);
    expect(harpInKey(STANDARD_LAYOUT, "C", STANDARD_A4, midi(50))).toBeNull();
    expect(harpInKey(STANDARD_LAYOUT, "C", STANDARD_A4, midi(72))).toBeNull();
  });

  test("all sets together sound from C3 to G7, the twelve usual ones from G3 to F#7", () => {
    // Fact sheet, section 1 [calc]: C3 to G7 over all; G3 to F#7 for the standard set.
    const usual = KEYS_BY_REGISTER.map((key) => soundingRange(inKey(STANDARD_LAYOUT, key)));
    const every = KEYS_BY_REGISTER.flatMap((key) =>
      [low(key), inKey(STANDARD_LAYOUT, key), high(key)].flatMap((one) =>
        one === null ? [] : [soundingRange(one)],
      ),
    );
    const span = (ranges: typeof every) => [
      noteName(midi(Math.min(...ranges.map((range) => range.low))), ["F#"]),
      noteName(midi(Math.max(...ranges.map((range) => range.high))), ["F#"]),
    ];
    expect(span(usual)).toEqual(["G3", "F#7"]);
    expect(span(every)).toEqual(["C3", "G7"]);
    expect([LOWEST_SOUND, HIGHEST_SOUND]).toEqual([midiOfName("C3"), midiOfName("G7")]);
  });

  test("a harp's name tells its register where it is not the usual one", () => {
    const names = [low("D"), high("G"), inKey(STANDARD_LAYOUT, "G")].map((one) => one && harpName(one));
    expect(names).toEqual(["low D harp", "high G harp", "G harp"]);
    expect(registerOf(inKey(STANDARD_LAYOUT, "Bb"))).toBe("usual");
  });

  test("layouts labelled by their second position say so apart from their key note", () => {
    // Fact sheet, section 1: raised 3-blow with raised 4ths is "usually labelled in that key", a 5th up [F 1].
    const raised = stockLayout("raised-third-blow-with-raised-fourths");
    if (raised === null) throw new Error("no such layout");
    expect(labelName(inKey(raised, "C"))).toBe("G");
    expect(labelName(inKey(STANDARD_LAYOUT, "C"))).toBe("C");
  });
});
