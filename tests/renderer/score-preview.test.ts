import { describe, expect, test } from "vitest";
import { importTunes } from "../../renderer/tunes/import-tunes.ts";
import { scorePreview } from "../../renderer/tunes/score-preview.ts";
import { begin, bytesOf, note, scoreOfParts } from "../support/musicxml.ts";

const part = (id: string, ...notes: readonly string[]) => [id, "Fiddle", begin(notes.join(""))] as const;
const low = `<backup><duration>8</duration></backup>${note("G4", 8, "<voice>2</voice>")}`;
const high = note("D5", 8, "<voice>1</voice>");
const TWO = bytesOf(scoreOfParts([part("P1", high, low), part("P2", note("B4", 8))]));
const ONE = bytesOf(scoreOfParts([part("P1", note("B4", 8))]));

const chosen = (bytes: Uint8Array, choices: Parameters<typeof scorePreview>[1]) => {
  const read = scorePreview(bytes, choices);
  if (read.kind === "unreadable") return read.reason;
  const { part: of, voice, notes, several } = read.preview;
  return { part: of.id, voice, notes, several };
};

describe("a score brought in", () => {
  test("of one part and voice has nothing to choose", () => {
    expect(chosen(ONE, {})).toEqual({ part: "P1", voice: "1", notes: 1, several: false });
  });

  test("of several shows the first, and those that were chosen", () => {
    expect(chosen(TWO, {})).toEqual({ part: "P1", voice: "1", notes: 1, several: true });
    expect(chosen(TWO, { part: "P1", voice: "2" })).toMatchObject({ part: "P1", voice: "2" });
    expect(chosen(TWO, { part: "P2" })).toMatchObject({ part: "P2", voice: "1" });
  });

  test("that is broken says where", () => {
    expect(chosen(TWO.slice(0, 150), {})).toMatch(/line \d+, column \d+: /);
  });

  test("is kept in the part and voice chosen", () => {
    const [some] = [...importTunes("band.musicxml", TWO, { part: "P1", voice: "2" })];
    expect(some?.tunes.map(({ begins }) => begins)).toEqual(["G"]);
  });
});
