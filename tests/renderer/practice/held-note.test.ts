import { describe, expect, test } from "vitest";
import { HeldNote } from "../../../renderer/practice/held-note.ts";

/** Readings thirty a second, as the microphone gives them. */
function hearAll(pitches: readonly (number | null)[]): number | null {
  const held = new HeldNote();
  const at = pitches.findIndex((midi, n) => held.hear(n / 30, midi));
  return at < 0 ? null : at / 30;
}

const times = (count: number, midi: number | null) => Array.from({ length: count }, () => midi);

describe("a note that begins a take", () => {
  test("is one that is held for half a second", () => {
    expect(hearAll([...times(9, null), ...times(30, 74)])).toBeCloseTo(0.3 + 0.5, 1); // [calc] 9 readings, then half a second
  });

  test("is none of a tune, whose notes change sooner", () => {
    const quavers = [74, 76, 78, 79, 81, 79, 78, 76].flatMap((midi) => times(7, midi)); // [calc] 7 readings: 233 ms
    expect(hearAll(quavers)).toBeNull();
  });

  test("may flicker, but not fall silent", () => {
    expect(hearAll([...times(8, 74), null, null, ...times(12, 74.1)])).not.toBeNull();
    expect(hearAll([...times(8, 74), ...times(6, null), ...times(12, 74)])).toBeNull();
  });

  test("may waver like a reed, but a slide is no held note", () => {
    expect(hearAll(Array.from({ length: 30 }, (_, n) => 74 + 0.2 * Math.sin(n)))).not.toBeNull();
    expect(hearAll(Array.from({ length: 30 }, (_, n) => 74 - n / 20))).toBeNull();
  });

  test("is not silence, however long", () => expect(hearAll(times(300, null))).toBeNull());
});
