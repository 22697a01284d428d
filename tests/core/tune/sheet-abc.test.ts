import abcjs from "abcjs";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { readAbc } from "../../../core/tune/abc/read-abc.ts";
import { onceThrough } from "../../../core/tune/once-through.ts";
import { sheetAbc } from "../../../core/tune/sheet-abc.ts";
import type { Tune } from "../../../core/tune/tune.ts";
import { anyTune, musicOf, notesOf, tuneOf } from "../../support/any-tune.ts";
import { SHIPPED_FILES, shippedText } from "../../support/shipped-tunes.ts";

/** Lines of music and of tab, without the header. */
const body = (abc: string) =>
  abc
    .trimEnd()
    .split("\n")
    .filter((line) => line.startsWith("w:") || !/^[A-Z]:/.test(line));

function tunesIn(abc: string): readonly Tune[] {
  const read = readAbc(abc);
  if (read.kind !== "tunes") throw new Error(read.reason);
  expect(read.bad).toEqual([]);
  return read.tunes;
}

/** A tab no two notes on the page share, so that it says which note it stands under. */
const numbered = (tune: Tune) => tune.notes.map((note) => (note.index % 2 === 0 ? "-" : "") + note.written);

/** What abcjs makes of a note; its types leave the lyric out. */
interface Sung {
  readonly el_type: string;
  readonly pitches?: readonly { readonly endTie?: boolean }[];
  readonly lyric?: readonly { readonly syllable: string }[];
}

/** [X] abcjs 6.7.2, its parser: the first syllable of each note on the page that is not tied to. */
function syllables(abc: string): readonly (string | null)[] {
  const [tune] = abcjs.parseOnly(abc);
  const elements = (tune?.lines ?? [])
    .flatMap((line) => line.staff?.flatMap((staff) => staff.voices ?? []) ?? [])
    .flat() as readonly Sung[];
  return elements.flatMap(({ el_type, pitches, lyric }) =>
    el_type !== "note" || pitches === undefined || pitches.some(({ endTie }) => endTie === true)
      ? []
      : [lyric?.[0]?.syllable ?? null],
  );
}

const A = { notes: notesOf(["G4", 4], ["A4", 4]) };

describe("the tab of a sheet", () => {
  test("stands under its note, behind a backslash where it begins with a minus, and not under rests and held notes", () => {
    const held = notesOf(["G4", 4], ["z", 2], ["B4", 2]).map((note) => ({
      ...note,
      tiedOn: note.name === "B4",
    }));
    const tune = tuneOf([{ notes: held }, { notes: notesOf(["B4", 4], ["D5", 4]) }]);
    // ABC 2.1, 5.1: `\-` is a hyphen, `*` a note without a syllable.
    expect(body(sheetAbc(tune, { tabs: ["6", "-3''", "-4"] }))).toEqual([
      "G4 z2 B2- | B4 d4 |]",
      "w:6 \\-3'' * \\-4",
    ]);
  });

  test("is left out under a note the harp lacks, and altogether where it lacks all of a line", () => {
    const tune = tuneOf([A]);
    expect(body(sheetAbc(tune, { tabs: [null, "5"] }))).toEqual(["G4 A4 |]", "w:* 5"]);
    expect(body(sheetAbc(tune, { tabs: [null, null] }))).toEqual(["G4 A4 |]"]);
  });

  test("of a repeat that is played otherwise is a second verse", () => {
    const tune = tuneOf([{ ...A, repeatFrom: 2, repeatTo: 2 }]);
    expect(body(sheetAbc(tune, { tabs: ["6", "-6", "6", "-6"] }))).toEqual(["|: G4 A4 :|", "w:6 \\-6"]);
    expect(body(sheetAbc(tune, { tabs: ["6", "-6", "-2", "-6"] }))).toEqual([
      "|: G4 A4 :|",
      "w:6 \\-6",
      "w:\\-2 \\-6",
    ]);
  });

  test("stands under the same notes in another program, in every tune that comes along", () => {
    let seen = 0;
    for (const tune of SHIPPED_FILES.flatMap((file) => tunesIn(shippedText(file)))) {
      const tabs = numbered(tune);
      const { from } = onceThrough(tune);
      expect(syllables(sheetAbc(tune, { tabs })), tune.title).toEqual(from.map((place) => tabs[place]));
      seen++;
    }
    // [calc] 33 traditional and 8 of the demo's band.
    expect(seen).toBe(41);
  });
});

describe("a breath mark", () => {
  const tune = tuneOf([{ ...A, repeatFrom: 2, repeatTo: 2 }]);

  test("belongs to the note before the breath, once for all repeats", () => {
    // ABC 2.1, 4.14: !breath!.
    expect(body(sheetAbc(tune, { tabs: [], breathAfter: [3] }))).toEqual(["|: G4 !breath!A4 :|"]);
  });

  test("comes at the end of a note that is held over a bar line", () => {
    const held = notesOf(["G4", 8]).map((note) => ({ ...note, tiedOn: true }));
    const over = tuneOf([{ notes: held }, { notes: notesOf(["G4", 4], ["A4", 4]) }]);
    expect(body(sheetAbc(over, { tabs: [], breathAfter: [0] }))).toEqual(["G8- | !breath!G4 A4 |]"]);
  });
});

describe("of the fields of a tune", () => {
  test("the sources and the rights are on the sheet, what is noted for readers of the file is not", () => {
    const fields = [
      { kind: "source", text: "an old print, no. 7" },
      { kind: "notes", text: "compared bar by bar" },
      { kind: "copyright", text: "our own, 100 % free" },
    ];
    const lines = sheetAbc(tuneOf([A], { fields }), { tabs: [] }).split("\n");
    expect(lines).toContain("%%text Source: an old print, no. 7");
    expect(lines).toContain("%%text our own, 100 \\% free");
    expect(lines.join("\n")).not.toContain("compared");
  });
});

describe("the lines of a sheet", () => {
  test("begin with the upbeat, also where it stands before the repeat sign", () => {
    const upbeat = { notes: notesOf(["D4", 1]), lengthTicks: (1 / 8) * 161_280 };
    const tune = tuneOf([upbeat, { ...A, repeatFrom: 2, repeatTo: 2 }]);
    expect(body(sheetAbc(tune, { tabs: [] }))).toEqual(["D |: G4 A4 :|"]);
  });

  test("have fewer bars where the tab of four would run together", () => {
    const bar = { notes: notesOf(...Array.from({ length: 8 }, () => ["G4", 1] as const)) };
    const tune = tuneOf([bar, bar, bar, bar].map((one) => ({ ...one })));
    const lines = (text: string) =>
      body(sheetAbc(tune, { tabs: tune.notes.map(() => text) })).filter((line) => !line.startsWith("w:"))
        .length;
    // [calc] 32 notes of 2 letters and a gap are 96 letters a line; of 4 letters 160, and 80 in two bars.
    expect([lines("-4"), lines("-10'")]).toEqual([1, 2]);
  });

  test("name the tempo, also one that is only usual for the dance", () => {
    const lines = sheetAbc(tuneOf([A], { tempoFrom: "dance" }), { tabs: [] }).split("\n");
    expect(lines).toContain("Q:1/4=120");
  });
});

describe("a sheet read back", () => {
  const withoutBreaths = (tune: Tune): Tune => ({
    ...tune,
    notes: tune.notes.map((note) => ({
      ...note,
      ornaments: note.ornaments.filter(({ kind }) => kind !== "breath"),
    })),
  });

  test("has the notes, bars, chord symbols and repeats of any tune", () => {
    fc.assert(
      fc.property(anyTune, (tune) => {
        const tabs = tune.notes.map((note) => (note.index % 3 === 0 ? null : `-${note.index % 10}''`));
        const breathAfter = tune.notes.flatMap((note) => (note.index % 5 === 0 ? [note.index] : []));
        const [back] = tunesIn(sheetAbc(tune, { tabs, breathAfter, words: ["G harp, 2nd position"] }));
        if (back === undefined) throw new Error("no tune came back");
        expect(musicOf(withoutBreaths(back))).toEqual(musicOf(withoutBreaths(tune)));
        expect(back.title).toBe(tune.title);
      }),
      { numRuns: 100 },
    );
  });

  test("has what was put under the title, whatever signs it holds", () => {
    const words = ["50 % of a G harp & more", "This harp lacks C#6 (bar 4)"];
    const [back] = tunesIn(sheetAbc(tuneOf([A]), { tabs: [], words }));
    expect(back?.otherTitles).toEqual(words);
  });
});
