import { describe, expect, test } from "vitest";
import { PLAIN_ONLY } from "../../../core/instrument/reed-actions.ts";
import { modeOn } from "../../../core/instrument/scale-report.ts";
import { STANDARD_LAYOUT, stockLayout } from "../../../core/instrument/stock-layouts.ts";
import { tab } from "../../../core/instrument/tab.ts";
import { harpsToOwn } from "../../../core/path/harps-to-own.ts";
import { harpsToTry } from "../../../core/path/harps-to-try.ts";
import { runToEnd } from "../../../core/path/long-work.ts";
import { noteName } from "../../../core/pitch/note-names.ts";
import { midi } from "../../../core/units.ts";
import { compareHarps } from "../../../core/workshop/design/compare.ts";
import { catalogueBeside, nameFound } from "../../../core/workshop/design/found-layout.ts";
import { keysShare } from "../../../core/workshop/design/keys-share.ts";
import { FIRST_LIMITS } from "../../../core/workshop/design/limits.ts";
import { inKey } from "../../support/any-layout.ts";
import { seededTunes } from "../../support/seeded-tunes.ts";

const STOCK = inKey(STANDARD_LAYOUT, "C");
const RAISED = stockLayout("raised-third-blow") ?? STANDARD_LAYOUT;

describe("a harp beside another", () => {
  const compared = compareHarps(STOCK, { ...STOCK, layout: RAISED }, modeOn(0, "major", "C"));
  const names = (notes: readonly Parameters<typeof noteName>[0][]) =>
    notes.map((note) => noteName(note, ["Ab", "Bb"]));

  test("a raised 3-blow gains A4 plain, and hole 3 keeps one bend", () => {
    // [M] [calc] trade facts, section 2: 3 blow raised to A leaves only Bb4 between A4 and B4, so Ab4 is lost too.
    expect(names(compared.plain.gained)).toEqual(["A4"]);
    expect(names(compared.plain.lost)).toEqual([]);
    expect(compared.bends.lost.map(({ action, note }) => [tab(action), ...names([note])])).toEqual([
      ["-3''", "A4"],
      ["-3'''", "Ab4"],
    ]);
    expect(compared.bends.gained).toEqual([]);
    expect(names(compared.reached.lost)).toEqual(["Ab4"]);
  });

  test("octaves split over hole 3 are lost with its G, and its A has none", () => {
    // [calc] blow: 3 (G4) and 6 (G5) lie an octave apart with two holes between; A4 on 3 has no A5 among the blow reeds.
    expect(compared.octaves.lost.map(({ breath, holes }) => `${holes.join("-")} ${breath}`)).toEqual([
      "3-6 blow",
    ]);
    expect(compared.octaves.gained).toEqual([]);
  });

  test("a harp beside itself gains and loses nothing", () => {
    const same = compareHarps(STOCK, STOCK, modeOn(0, "major", "C"));
    for (const { gained, lost } of Object.values(same)) expect([...gained, ...lost]).toEqual([]);
  });

  test("the catalogue stands beside a wish with what each lacks of it, but for the layout begun with", () => {
    const wish = {
      harp: STOCK,
      scales: [{ homeName: "C", home: 0, mode: "major" as const, low: midi(60), high: midi(84) }],
      limits: FIRST_LIMITS,
      chordsCount: false,
      mustHave: [],
    };
    const lines = catalogueBeside(wish);
    expect(lines.find(({ layout }) => layout.id === "standard")).toBeUndefined();
    // [F1] solo has the full scale in every octave.
    expect(lines.find(({ layout }) => layout.id === "solo-12")?.missing).toEqual([]);
    // [calc] raised 3-blow has A4 but no F4.
    const raised = lines.find(({ layout }) => layout.id === "raised-third-blow");
    expect(raised?.apart).toBe(1);
    expect(raised?.missing).toEqual([65]);
  });

  test("a layout found has a name of its own, one without changes keeps its own", () => {
    expect(nameFound(STANDARD_LAYOUT, STANDARD_LAYOUT, 0)).toBe(STANDARD_LAYOUT);
    expect(nameFound(STANDARD_LAYOUT, { ...RAISED, id: "x", name: "x" }, 0).name).toBe(
      "standard, 1 reed changed",
    );
    expect(nameFound(STANDARD_LAYOUT, RAISED, 2)).toMatchObject({ id: "standard-1-reed-changed-c" });
  });
});

test("the share of four keys is that of the best four harps to own", () => {
  const tunes = seededTunes(60, 5);
  for (const layout of [STANDARD_LAYOUT, RAISED]) {
    const share = runToEnd(keysShare(tunes, layout));
    const own = runToEnd(harpsToOwn(tunes, harpsToTry({ layouts: [layout] }), { abilities: PLAIN_ONLY }));
    // Where fewer than four play all that can be played, so do four.
    const four = own.bestOfSize[3]?.tunes ?? tunes.length - own.unplayable.length;
    expect(share.tunes).toBe(four);
    expect(share.allKeys).toBe(tunes.length - own.unplayable.length);
    expect(share.harps.length).toBeLessThanOrEqual(4);
  }
});
