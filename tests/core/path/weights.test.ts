import { describe, expect, test } from "vitest";
import { breathPath } from "../../../core/path/breath-path.ts";
import { hurry, moveEffort, noteCost, stepCost, techniqueEffort } from "../../../core/path/cost.ts";
import { FIRST_WEIGHTS, readWeights, WEIGHT_NAMES, WEIGHTS } from "../../../core/path/weights.ts";
import { harp } from "../../support/harps.ts";
import { actionOf, lineOf, tabs } from "./lines.ts";

const effort = (from: string, to: string) => moveEffort(actionOf(from), actionOf(to), FIRST_WEIGHTS);

describe("what a move costs", () => {
  // All expected numbers are [calc] from the table of weights; the weights themselves are common practice.
  test("a breath change is the unit: with a quarter of a second, in the next hole", () => {
    expect(FIRST_WEIGHTS.breathChange).toBe(1);
    expect(effort("4", "-5")).toBeCloseTo(1 + 0.3, 9);
    expect(effort("4", "5")).toBeCloseTo(0.3, 9);
  });

  test("a jump of four holes costs its way, and more with a breath change", () => {
    expect(effort("3", "7")).toBeCloseTo(0.3 + 3 * 0.5, 9);
    expect(effort("3", "-7")).toBeCloseTo(0.3 + 3 * 0.5 + 1 + 3 * 0.5, 9);
  });

  test("turning the breath in one hole costs a little more than the turn, staying costs nothing", () => {
    expect(effort("4", "-4")).toBeCloseTo(1.2, 9);
    expect(effort("-4", "-4'")).toBe(0);
  });

  test("half the time doubles the effort, a sixteenth of a second is the end of it", () => {
    expect(hurry(0.25, FIRST_WEIGHTS)).toBe(1);
    expect(hurry(0.125, FIRST_WEIGHTS)).toBe(2);
    expect(hurry(0.05, FIRST_WEIGHTS)).toBe(4);
    expect(hurry(0, FIRST_WEIGHTS)).toBe(4);
    expect(hurry(3, FIRST_WEIGHTS)).toBe(0.25);
  });

  test("a deep bend costs more than a small one, an overblow more than either", () => {
    const of = (text: string) => techniqueEffort(actionOf(text), FIRST_WEIGHTS);
    expect([of("-3"), of("-3'"), of("-3''"), of("-3'''"), of("6o"), of("-7o")]).toEqual([
      0, 1.5, 2.25, 3, 4, 5,
    ]);
  });

  test("tones are compared within a phrase and not across a rest", () => {
    const [first, second] = lineOf("B4 Bb4", 0.25);
    if (first === undefined || second === undefined) throw new Error("two notes");
    const step = (restSeconds: number) =>
      stepCost(
        { ...first, startSeconds: second.startSeconds, lengthSeconds: first.lengthSeconds },
        {
          startSeconds: (2 * second.startSeconds + restSeconds) as typeof second.startSeconds,
          lengthSeconds: second.lengthSeconds,
        },
        actionOf("-3"),
        actionOf("-3'"),
        FIRST_WEIGHTS,
      );
    expect(step(0)).toBe(0.5);
    expect(step(0.2)).toBe(0);
    // 1.5 efforts, a quarter of a second each time.
    expect(noteCost(first, second, actionOf("-3'"), FIRST_WEIGHTS)).toBe(1.5);
  });
});

describe("the table of weights", () => {
  test("says of every weight what it is, its unit, why and where from", () => {
    expect(WEIGHT_NAMES.length).toBeGreaterThan(10);
    for (const name of WEIGHT_NAMES) {
      const { reason, source, unit, value } = WEIGHTS[name];
      expect(reason).toMatch(/^[A-Z].*\.$/);
      expect(`${unit}${source}`).not.toBe("");
      expect(value).toBeGreaterThan(0);
    }
  });

  test("takes what the player changes and keeps the rest", () => {
    expect(readWeights({ bend: 0.1 })).toEqual({ kind: "weights", weights: { ...FIRST_WEIGHTS, bend: 0.1 } });
    expect(readWeights({})).toEqual({ kind: "weights", weights: FIRST_WEIGHTS });
  });

  test.each([
    [null, "weights must be an object of numbers by name, not null"],
    [{ bends: 1 }, 'there is no weight "bends"; there are breathChange'],
    [{ bend: "1" }, 'weight bend must be a number from 0 to 100, not "1"'],
    [{ bend: Number.NaN }, "weight bend must be a number from 0 to 100, not null"],
    [{ comfortableSeconds: 0 }, "weight comfortableSeconds must be a number from 0.01 to 100, not 0"],
    [{ leastHurry: 5 }, "weight leastHurry (5) is above mostHurry (4)"],
  ])("refuses %j and names what is wrong", (given, reason) => {
    const read = readWeights(given);
    expect(read.kind === "unreadable" ? read.reason : "read").toContain(reason);
  });

  test("changes the path: who minds bends less than breath changes bends", () => {
    // [F1] [calc] On a C harp G4 is 2 draw or 3 blow, F4 only 2 draw bent twice; E4 2 blow.
    const line = lineOf("G4 A4 G4", 0.25);
    const cheap = readWeights({ breathChange: 0 });
    const dear = readWeights({ breathChange: 10 });
    if (cheap.kind !== "weights" || dear.kind !== "weights") throw new Error("readable");
    expect(tabs(breathPath(line, harp("C"), { weights: dear.weights }).actions)).toBe("-2 -3'' -2");
    expect(tabs(breathPath(line, harp("C"), { weights: cheap.weights }).actions)).not.toContain("-2");
  });
});
