import { describe, expect, test } from "vitest";
import { reedNote } from "../../../core/instrument/harp.ts";
import { type Breath, type Layout, reedsOf } from "../../../core/instrument/layout.ts";
import { layoutWarnings } from "../../../core/instrument/layout-warnings.ts";
import { EVERYTHING, PLAIN_AND_BENDS, reedActions } from "../../../core/instrument/reed-actions.ts";
import {
  layoutOfWords,
  layoutSource,
  STANDARD_LAYOUT,
  STOCK_LAYOUTS,
  stockLayout,
} from "../../../core/instrument/stock-layouts.ts";
import { letterName, noteName } from "../../../core/pitch/note-names.ts";
import { midi } from "../../../core/units.ts";
import { LAYOUT_TABLES } from "../../sources/layout-tables.ts";
import { inKey, scaleOf } from "../../support/any-layout.ts";

const FLATS = ["Db", "Eb", "Ab", "Bb"];

function known(id: string): Layout {
  const layout = stockLayout(id);
  if (layout === null) throw new Error(`no layout ${id}`);
  return layout;
}

/** A row of a C harp as note names, spelled with the given names, with octaves where asked. */
function row(layout: Layout, breath: Breath, spelling: readonly string[], octaves: boolean): string {
  const harp = inKey(layout, "C");
  return layout.holes
    .map((_, index) => {
      const note = reedNote(harp, index + 1, breath) ?? midi(0);
      return octaves ? noteName(note, spelling) : letterName(note, spelling);
    })
    .join(" ");
}

describe("the catalogue of layouts", () => {
  test("holds every layout of the printed tables and no other", () => {
    expect(STOCK_LAYOUTS.map((layout) => layout.id)).toEqual(LAYOUT_TABLES.map((table) => table.id));
    expect(STOCK_LAYOUTS[0]).toBe(STANDARD_LAYOUT);
  });

  test.each(LAYOUT_TABLES)("$id is as printed $mark", ({ id, blow, draw }) => {
    const layout = known(id);
    const octaves = /\d/.test(blow);
    const spelling = `${blow} ${draw}`.replace(/\d/g, "").split(" ");
    const names = `${blow} ${draw}`.includes("#") ? spelling : [...spelling, ...FLATS];
    expect(row(layout, "blow", names, octaves)).toBe(blow);
    expect(row(layout, "draw", names, octaves)).toBe(draw);
    expect(layoutSource(id)).not.toBeNull();
  });

  test("rows rise from hole to hole; only the solo ones repeat a note where two octaves meet", () => {
    // Fact sheet, section 1: "strictly rising rows" [calc]; solo doubles the C at the octave's seam [F 1].
    for (const { id, holes } of STOCK_LAYOUTS) {
      const blow = holes.map((hole) => Number(hole.blow));
      const draw = holes.map((hole) => Number(hole.draw));
      const seams = blow.filter((reed, index) => index > 0 && reed === blow[index - 1]).length;
      expect(seams, id).toBe(id.startsWith("solo") ? 2 : 0);
      expect(
        blow.every((reed, index) => index === 0 || reed >= Number(blow[index - 1])),
        id,
      ).toBe(true);
      expect(
        draw.every((reed, index) => index === 0 || reed > Number(draw[index - 1])),
        id,
      ).toBe(true);
    }
  });

  // Counts printed in the fact sheet, section 1 [F 2] [calc].
  test.each([
    ["standard", 19],
    ["raised-third-blow", 20],
    ["solo-10", 18],
    ["solo-12", 22],
  ])("%s has %d different pitches", (id, count) => {
    expect(new Set(reedsOf(known(id)).map((reed) => reed.sounds)).size).toBe(count);
  });

  // Scales the fact sheet, section 1, says each gives, in semitones above the key note [calc].
  test.each([
    ["natural-minor-first-position", [0, 2, 3, 5, 7, 8, 10]], // C natural minor
    ["harmonic-minor", [0, 2, 3, 5, 7, 8, 11]], // C harmonic minor
    ["natural-minor-second-position", [0, 2, 3, 5, 7, 9, 10]], // C Dorian
    ["dorian-second-position", [0, 2, 4, 5, 7, 9, 10]], // C Mixolydian
    ["circular-from-the-fifth", [0, 2, 4, 5, 7, 9, 11]], // C major
    ["major-seventh", [0, 2, 4, 6, 7, 9, 11]], // G major from C
  ])("%s has the scale it is made for", (id, steps) => {
    expect(scaleOf(known(id))).toEqual(steps);
  });

  test("country and standard differ in 5 draw alone", () => {
    const differing = known("country").holes.flatMap((hole, index) => {
      const other = STANDARD_LAYOUT.holes[index];
      return hole.blow === other?.blow && hole.draw === other.draw ? [] : [[index + 1, hole.draw]];
    });
    expect(differing).toEqual([[5, 18]]); // [calc] F 17 raised by one
  });

  test("the sixteen-hole layout begins with 1 draw B, and its 3 draw is the G of a ten-hole 2 draw", () => {
    const harp = inKey(known("extended-16"), "C");
    expect(noteName(reedNote(harp, 1, "draw") ?? midi(0))).toBe("B3"); // fact sheet, section 1 [F 1]
    expect(reedNote(harp, 3, "draw")).toBe(reedNote(inKey(STANDARD_LAYOUT, "C"), 2, "draw"));
  });
});

describe("bends of altered layouts on C", () => {
  function bends(id: string, hole: number, names: readonly string[] = FLATS): readonly string[] {
    return reedActions(known(id), EVERYTHING)
      .filter((one) => one.action.hole === hole && one.action.technique === "bend")
      .map((one) => noteName(midi(60 + one.sounds), [...names, "Gb"]));
  }

  // Fact sheet, section 2: "Harmonic minor: 2 draw bends three, 3 draw three, 10 blow three"; raised 3-blow one [calc].
  test.each([
    ["harmonic-minor", 2, ["Gb4", "F4", "E4"]],
    ["harmonic-minor", 3, ["Bb4", "A4", "Ab4"]],
    ["harmonic-minor", 10, ["B6", "Bb6", "A6"]],
    ["raised-third-blow", 3, ["Bb4"]],
  ])("%s, hole %d bends to %j", (id, hole, expected) => {
    expect(bends(id, hole)).toEqual(expected);
  });

  test.each([
    ["diminished", 1],
    ["augmented", 2],
  ])("%s has all twelve notes with %d draw bends in every hole", (id, each) => {
    const layout = known(id);
    const actions = reedActions(layout, PLAIN_AND_BENDS);
    for (let hole = 1; hole <= 10; hole++) {
      const own = actions.filter((one) => one.action.hole === hole && one.action.technique === "bend");
      expect(own.map((one) => one.action.breath)).toEqual(Array(each).fill("draw"));
    }
    const sounded = new Set(actions.map((one) => Number(one.sounds)));
    const top = Math.max(...layout.holes.map((hole) => Number(hole.draw)));
    for (let note = 0; note <= top; note++) expect(sounded.has(note), `${id} ${note}`).toBe(true);
  });

  test("with a raised 3-blow the A flat below it is lost", () => {
    // Fact sheet, section 2: "Raised 3-blow has only Bb4 in hole 3, so Ab4 is lost too" [calc].
    const reach = reedActions(known("raised-third-blow"), PLAIN_AND_BENDS).map((one) => Number(one.sounds));
    expect(reach).not.toContain(8);
    expect(reach).toContain(10);
  });
});

describe("names of layouts", () => {
  test.each([
    ["raised third blow with raised fourths", "raised-third-blow-with-raised-fourths"],
    ["Raised 3-blow with raised 4ths", "raised-third-blow-with-raised-fourths"],
    ["raised 3-blow", "raised-third-blow"],
    ["SOLO 12", "solo-12"],
    ["standard", "standard"],
  ])("%j is understood", (words, id) => {
    expect(layoutOfWords(words)?.id).toBe(id);
  });

  test("an unknown name is no layout", () => {
    expect(layoutOfWords("moon")).toBeNull();
    expect(stockLayout("constructor")).toBeNull();
    expect(layoutSource("moon")).toBeNull();
  });
});

describe("warnings", () => {
  const texts = (layout: Layout) => layoutWarnings(layout).map((warning) => warning.text);

  test("of the catalogue only country tuning differs between octaves, and only sixteen holes open wide", () => {
    const warned = STOCK_LAYOUTS.flatMap((layout) =>
      layoutWarnings(layout).map((warning) => [layout.id, warning.kind, warning.holes.join()]),
    );
    expect(warned).toEqual([
      ["country", "unequal octaves", "5,9"], // F#5 against F6, on purpose [F 1]
      ["extended-16", "wide gap", "14"], // [calc] C 48 to F 41: 7 semitones
      ["extended-16", "wide gap", "15"], // [calc] E 52 to A 45: 7
      ["extended-16", "wide gap", "16"], // [calc] G 55 to B 47: 8
    ]);
  });

  test("the misprinted natural minor with A flat in 10 draw alone is flagged", () => {
    // Fact sheet, section 1, cautions: a widely copied table prints Ab in draw 10 beside A in draw 6.
    const right = known("natural-minor-second-position");
    const holes = right.holes.map((hole, index) => (index === 9 ? { ...hole, draw: 32 as never } : hole));
    expect(texts({ ...right, holes })).toEqual([
      "octaves differ: 6 draw is 6 of the key, but 10 draw is b6 of the key",
    ]);
    expect(texts(right)).toEqual([]);
  });

  test("a hole with two reeds of the same note is flagged", () => {
    const holes = STANDARD_LAYOUT.holes.map((hole, index) =>
      index === 0 ? { blow: hole.blow, draw: hole.blow } : hole,
    );
    expect(texts({ ...STANDARD_LAYOUT, holes })).toEqual([
      "hole 1: blow and draw are the same note, so it neither bends nor overblows",
    ]);
  });
});
