import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { layoutFromRows } from "../../../core/instrument/layout.ts";
import { readReedCents } from "../../../core/instrument/reed-cents-json.ts";
import { STANDARD_LAYOUT } from "../../../core/instrument/stock-layouts.ts";
import { targetCents } from "../../../core/instrument/target-cents.ts";
import { semitones } from "../../../core/units.ts";
import { harp } from "../../support/harps.ts";

const holes = (changes: Readonly<Record<number, object>> = {}) =>
  Array.from({ length: 10 }, (_, place) => changes[place + 1] ?? { blow: 0, draw: 0 });
const file = (changes: object = {}) =>
  JSON.stringify({ schema: "reedpath.reed-cents", version: 1, holes: holes(), ...changes });
const read = (text: string) => readReedCents(text, STANDARD_LAYOUT);
const plain = (hole: number, breath: "blow" | "draw") =>
  ({ hole, breath, technique: "plain", bentSemitones: semitones(0) }) as const;

describe("a file of a player's own cents", () => {
  test("gives each plain reed its own target, and none where nothing is known", () => {
    const found = read(
      file({ name: "as I filed it", holes: holes({ 3: { blow: -4, draw: 2.5 }, 4: { draw: null } }) }),
    );
    if (found.kind === "unreadable") throw new Error(found.reason);
    const own = { ...harp("C"), temperament: found.temperament };
    expect(found.temperament.name).toBe("as I filed it");
    expect(
      [plain(3, "blow"), plain(3, "draw"), plain(4, "draw")].map((one) => targetCents(own, one)),
    ).toEqual([-4, 2.5, 0]);
  });

  test.each([
    ["{", /^not JSON: /],
    ["[]", /^not a file of reed cents: no JSON object$/],
    [file({ schema: "reedpath.layout" }), /"schema" is not "reedpath\.reed-cents"$/],
    [file({ version: 2 }), /newer version of the program \(reed cents version 2, this one reads 1\)$/],
    [file({ version: "1" }), /^version: must be 1, not "1"$/],
    [file({ name: "two\nlines" }), /^name: must be one line/],
    [file({ holes: 10 }), /^holes: must be a list of holes, not 10$/],
    [file({ holes: holes().slice(1) }), /^holes: there are 9; the layout .* has 10$/],
    [file({ holes: holes({ 3: [1, 2] as object }) }), /^hole 3: must be an object with blow and draw/],
    [file({ holes: holes({ 3: { blow: 1, drawn: 2 } }) }), /^hole 3: has "drawn"; there are blow and draw$/],
    [file({ holes: holes({ 7: { blow: "flat" } }) }), /^hole 7, blow: must be a number of cents or null/],
    [
      file({ holes: holes({ 2: { draw: 440 } }) }),
      /^hole 2, draw: 440 cents is outside -100 to 100; was this/,
    ],
  ])("that is wrong says where and why (%#)", (text, reason) => {
    const found = read(text);
    expect(found).toEqual({ kind: "unreadable", reason: expect.stringMatching(reason) });
  });

  test("that are readings may tell of a reed that has fallen", () => {
    const fallen = file({ holes: holes({ 4: { draw: -130 } }) });
    expect(read(fallen)).toMatchObject({ kind: "unreadable" });
    const found = readReedCents(fallen, STANDARD_LAYOUT, 300);
    expect(found.kind === "temperament" && found.temperament.holes[3]?.draw).toBe(-130);
    expect(readReedCents(file({ holes: holes({ 4: { draw: -301 } }) }), STANDARD_LAYOUT, 300)).toEqual({
      kind: "unreadable",
      reason: expect.stringMatching(/^hole 4, draw: -301 cents is outside -300 to 300/),
    });
  });

  test("may not tune a reed the layout has not", () => {
    const lone = layoutFromRows("lone", "lone", { blow: [0, 4], draw: [2, null] });
    const text = file({
      holes: [
        { blow: 0, draw: 0 },
        { blow: 0, draw: 3 },
      ],
    });
    expect(readReedCents(text, lone)).toEqual({
      kind: "unreadable",
      reason: "hole 2, draw: the layout lone has no reed there; write null",
    });
  });

  test("any other JSON is refused in one line, never thrown at", () => {
    fc.assert(
      fc.property(
        fc.oneof(
          fc.json(),
          fc.jsonValue().map((holes) => file({ holes })),
        ),
        (text) => {
          const found = read(text);
          if (found.kind === "unreadable") expect(found.reason).not.toMatch(/\n|undefined|\[object/);
          else expect(found.temperament.holes).toHaveLength(10);
        },
      ),
    );
  });
});
