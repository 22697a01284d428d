import { expect, test } from "vitest";
import { fileNameOf } from "../../renderer/ui/file-name.ts";

test.each([
  ["D mixolydian scale, one octave", "D-mixolydian-scale-one-octave"],
  ["../../etc/passwd", "etc-passwd"],
  ['a<b>:"c"|d?*\\e/f', "a-b-c-d-e-f"],
  ["Übung für Großvater", "Übung-für-Großvater"],
  [".hidden", "hidden"],
  // Names of devices on one system, whatever follows the dot.
  ["con", "take"],
  ["LPT1", "take"],
  ["♩ = 90", "90"],
  ["...", "take"],
  ["", "take"],
])("%j becomes %j", (text, name) => {
  expect(fileNameOf(text, "take")).toBe(name);
});

test("a long title is cut, never in the middle of a letter", () => {
  const name = fileNameOf(`a${"𝒜".repeat(200)}`, "take");
  expect(name).toBe(`a${"𝒜".repeat(39)}`); // [calc] 1 + 2 x 39 of at most 80
  expect(() => encodeURIComponent(name)).not.toThrow(); // it does for half a letter
});
