import { describe, expect, test } from "vitest";
import {
  keyName,
  keyOf,
  readKeys,
  USUAL_KEYS,
  VERBS,
  verbOf,
  withKey,
  withoutKey,
} from "../../renderer/ui/keys.ts";

describe("the player's keys", () => {
  test("no key means two things, and every verb has one", () => {
    const keys = VERBS.flatMap((verb) => USUAL_KEYS[verb]);
    expect(new Set(keys).size).toBe(keys.length);
    expect(VERBS.filter((verb) => USUAL_KEYS[verb].length === 0)).toEqual([]);
  });

  test("a pedal that turns pages starts and stops, and lets hear", () => {
    expect(verbOf(USUAL_KEYS, "PageDown")).toBe("start");
    expect(verbOf(USUAL_KEYS, "PageUp")).toBe("hear");
  });

  test("letters count whatever the caps lock says", () => {
    expect(verbOf(USUAL_KEYS, keyOf({ key: "H" }))).toBe("hear");
    expect(keyOf({ key: "PageUp" })).toBe("PageUp");
  });

  test("a key given to a verb is taken from the one that had it", () => {
    const changed = withKey(USUAL_KEYS, "hear", "b");
    expect(verbOf(changed, "b")).toBe("hear");
    expect(verbOf(changed, "h")).toBe("hear");
    const taken = withKey(changed, "start", "h");
    expect(verbOf(taken, "h")).toBe("start");
    expect(taken.hear).not.toContain("h");
    expect(verbOf(withoutKey(taken, "h"), "h")).toBeNull();
  });

  test("what was kept comes back, and what is damaged has its usual keys", () => {
    const changed = withKey(USUAL_KEYS, "hear", "b");
    expect(readKeys(JSON.parse(JSON.stringify(changed)))).toEqual(changed);
    for (const damaged of [null, 3, "keys", [], { start: "b" }, { start: [3] }, { start: [""] }])
      expect(readKeys(damaged)).toEqual(USUAL_KEYS);
    expect(readKeys({ start: ["b"], hear: 5 })).toEqual({ ...USUAL_KEYS, start: ["b"] });
  });

  test("stand as they do on the keyboard", () => {
    expect([" ", "h", "ArrowUp", "Escape", "PageDown"].map(keyName)).toEqual([
      "Space",
      "H",
      "↑",
      "Esc",
      "Page down",
    ]);
  });
});
