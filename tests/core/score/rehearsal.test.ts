import { describe, expect, it } from "vitest";
import { rehearseMarking } from "../../../core/score/rehearsal.ts";
import { exerciseOf } from "../../support/drills.ts";

describe("marking rehearsed before the first take", () => {
  it("meets every fault that a take may have: missed, wrong, sharp and late notes", () => {
    const { marks, faults } = rehearseMarking(exerciseOf());
    const has = (verdict: string) => marks.some((mark) => mark.verdict === verdict);
    // [calc] Every 9th note is missed, every 7th another reed, every 5th 60 ms late, every 4th 30 cents sharp; the scale has 15.
    expect(has("hit")).toBe(true);
    expect(has("wrong")).toBe(true);
    expect(has("missed")).toBe(true);
    expect(marks[3]?.cents).toBeCloseTo(30, 6);
    expect(marks[4]?.ms).toBeGreaterThan(40);
    expect(faults.length).toBeGreaterThan(0);
  });

  it("takes the first 48 notes at most, so that it never holds up the window", () => {
    const scale = exerciseOf();
    const [form] = scale.notes;
    if (form === undefined) throw new Error("a scale without notes");
    const notes = Array.from({ length: 100 }, (_, index) => ({ ...form, index }));
    expect(rehearseMarking({ ...scale, notes }).marks).toHaveLength(48);
  });
});
