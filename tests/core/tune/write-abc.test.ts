import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { readAbc } from "../../../core/tune/abc/read-abc.ts";
import { keyOfFifths } from "../../../core/tune/key-signature.ts";
import type { Tune } from "../../../core/tune/tune.ts";
import { writeAbc } from "../../../core/tune/write-abc.ts";
import { bpm, midi } from "../../../core/units.ts";
import { anyTune, musicOf, notesOf, tuneOf } from "../../support/any-tune.ts";

/** The lines of music alone. */
const body = (tune: Tune) =>
  writeAbc(tune)
    .trimEnd()
    .split("\n")
    .filter((line) => !/^[A-Z]:/.test(line));

function readBack(tune: Tune): Tune {
  const read = readAbc(writeAbc(tune));
  if (read.kind !== "tunes") throw new Error(read.reason);
  const [only] = read.tunes;
  if (only === undefined) throw new Error(read.bad[0]?.reason ?? "no tune came back");
  return only;
}

const A = { notes: notesOf(["G4", 4], ["A4", 4]) };
const B = { notes: notesOf(["B4", 4], ["c5".toUpperCase(), 4]) };
const C = { notes: notesOf(["D5", 8]) };
const D = { notes: notesOf(["E5", 8]) };

describe("repeats", () => {
  test("bars played twice are written once between repeat signs", () => {
    const tune = tuneOf([{ ...A, repeatFrom: 2 }, { ...B, repeatTo: 2 }, C]);
    // [calc] 4 quavers each; ABC 2.1, 4.8.
    expect(body(tune)).toEqual(["|: G4 A4 | B4 c4 :|", "d8 |]"]);
  });

  test("three times has two colons, as ABC 2.1 (4.8) has it", () => {
    expect(body(tuneOf([{ ...A, repeatFrom: 3, repeatTo: 3 }]))).toEqual(["|:: G4 A4 ::|"]);
  });

  test("what ends differently has numbered endings", () => {
    const tune = tuneOf([
      { ...A, repeatFrom: 2 },
      { ...B, ending: [1], repeatTo: 2 },
      { ...C, ending: [2] },
    ]);
    // ABC 2.1, 4.9.
    expect(body(tune)).toEqual(["|: G4 A4 | [1 B4 c4 :|", "[2 d8 |]"]);
  });

  test("an ending played on two passes lists both", () => {
    const tune = tuneOf([
      { ...A, repeatFrom: 3 },
      { ...B, ending: [1, 3], repeatTo: 2 },
      { ...C, ending: [2] },
    ]);
    // ABC 2.1, 4.10.
    expect(body(tune)).toEqual(["|: G4 A4 | [1,3 B4 c4 :|", "[2 d8 |]"]);
  });

  test("a da capo, which has no repeat of its own, is written out", () => {
    const tune = tuneOf([
      { ...A, fine: true },
      { ...B, jump: { to: "beginning", until: "fine" } },
    ]);
    expect(body(tune)).toEqual(["G4 A4 | B4 c4 | G4 A4 |]"]);
  });

  test("bars of the same number that sound different are never folded", () => {
    const tune = tuneOf([{ ...A, repeatFrom: 2, repeatTo: 2 }]);
    const changed = tune.notes.map((note) =>
      note.index === 3 ? { ...note, midi: midi(71), name: "B4" } : note,
    );
    expect(body({ ...tune, notes: changed })).toEqual(["G4 A4 | G4 B4 |]"]);
  });

  test("a tie over a repeat sign is not left to the reader: the bars are written out", () => {
    const held = { notes: notesOf(["G4", 8]).map((note) => ({ ...note, tiedOn: true })) };
    const tune = tuneOf([{ ...held, repeatFrom: 2, repeatTo: 2 }, { notes: notesOf(["G4", 8]) }, D]);
    // [calc] Three semibreves tied: 24 quavers.
    expect(body(tune)).toEqual(["G8- | G8- ||", "G8 | e8 |]"]);
  });
});

describe("accidentals", () => {
  test("are repeated in another octave, where only one of the two readings would have them", () => {
    const tune = tuneOf([{ notes: notesOf(["F#4", 2], ["F#5", 2], ["F#4", 2], ["F5", 2]) }]);
    // ABC 2.1, 11.3: an accidental holds in all octaves; programs that hold it in its own need it said again.
    expect(body(tune)).toEqual(["^F2 ^f2 F2 =f2 |]"]);
  });

  test("end at the bar line", () => {
    const tune = tuneOf([{ notes: notesOf(["F#4", 8]) }, { notes: notesOf(["F#4", 8]) }]);
    expect(body(tune)).toEqual(["^F8 | ^F8 |]"]);
  });

  test("of the key are not written", () => {
    const tune = tuneOf([{ notes: notesOf(["F#4", 4], ["F4", 4]) }], { key: keyOfFifths(1, "dorian", true) });
    expect(writeAbc(tune)).toContain("\nK:Ador\nF4 =F4 |]\n");
  });

  test("a grace note leaves no doubt about itself or the notes after it", () => {
    const graced = notesOf(["G4", 4], ["F4", 4]).map((note, at) =>
      at === 0 ? { ...note, ornaments: [{ kind: "grace", notes: [{ name: "F#4", midi: midi(66) }] }] } : note,
    );
    expect(body(tuneOf([{ notes: graced }]))).toEqual(["{^F}G4 =F4 |]"]);
  });
});

describe("lengths", () => {
  test("three in the time of two are a tuplet", () => {
    const tune = tuneOf([{ notes: notesOf(["G4", 2 / 3], ["A4", 2 / 3], ["B4", 2 / 3], ["G4", 6]) }]);
    // ABC 2.1, 4.13.
    expect(body(tune)).toEqual(["(3GAB G6 |]"]);
  });

  test("five quavers are no note value: two are tied", () => {
    expect(body(tuneOf([{ notes: notesOf(["G4", 5], ["A4", 3]) }]))).toEqual(["G4- G A3 |]"]);
  });

  test("a chord symbol within a held note has a place to stand", () => {
    const chords = [{ atTicks: 80_640, symbol: "D7" }];
    // [calc] 80,640 is half of a semibreve's 161,280.
    expect(body(tuneOf([{ notes: notesOf(["G4", 8]), chords }]))).toEqual(['G4- "D7"G4 |]']);
  });

  test("overlapping notes are our own mistake", () => {
    const tune = tuneOf([{ notes: notesOf(["G4", 4], ["A4", 4]) }]);
    const late = tune.notes.map((note) => ({
      ...note,
      lengthTicks: tune.bars[0]?.lengthTicks ?? note.lengthTicks,
    }));
    expect(() => writeAbc({ ...tune, notes: late })).toThrow("notes 0 and 1 of the tune overlap");
  });
});

describe("the header", () => {
  test("has each field by the standard's letter", () => {
    const tune = tuneOf([A], {
      number: 7,
      title: "Band Room",
      otherTitles: ["50% Off"],
      fields: [
        { kind: "source", text: "the dance band" },
        { kind: "composer", text: "a member" },
      ],
      rhythm: "reel",
      metre: { beats: 2, unit: 2 },
      tempo: { noteValue: "1/2", bpm: bpm(100) },
      tempoFrom: "tune",
      key: { tonic: "D", mode: "mixolydian", signature: { F: 1, G: 1 }, sure: true },
    });
    // ABC 2.1, section 3; a percent sign begins a comment unless a backslash stands before it.
    expect(writeAbc(tune).split("\n").slice(0, 10)).toEqual([
      "X:7",
      "T:Band Room",
      "T:50\\% Off",
      "S:the dance band",
      "C:a member",
      "R:reel",
      "M:2/2",
      "L:1/8",
      "Q:1/2=100",
      "K:Dmix ^g",
    ]);
  });

  test("says no tempo that is only the dance's usual one", () => {
    expect(writeAbc(tuneOf([A], { tempoFrom: "dance" }))).not.toContain("Q:");
  });

  test("lists the signature where the mode has no name", () => {
    const key = { tonic: "A", mode: null, signature: { F: 1, C: 1 }, sure: false };
    expect(writeAbc(tuneOf([A], { key }))).toContain("\nK:A exp ^f ^c\n");
  });
});

describe("what is written is read back the same", () => {
  test("notes, bars, chord symbols and key of any tune", () => {
    fc.assert(
      fc.property(anyTune, (tune) => {
        const back = readBack(tune);
        expect(musicOf(back)).toEqual(musicOf(tune));
        expect({ ...back.key, sure: true }).toEqual({ ...tune.key, sure: true });
        expect(back.tempo).toEqual(tune.tempo);
      }),
      { numRuns: 80 },
    );
  });

  test("titles and fields with every sign ABC gives a meaning", () => {
    const text = '\\ % & "!+*~|[]{}- 50 % é ü ø';
    const tune = tuneOf([A], {
      title: text,
      otherTitles: [`${text} again`],
      fields: ["composer", "origin", "source", "book", "notes", "history", "transcription"].map((kind) => ({
        kind,
        text,
      })),
    });
    const back = readBack(tune);
    expect(back.title).toBe(text);
    expect(back.otherTitles).toEqual(tune.otherTitles);
    expect([...back.fields].sort(byKind)).toEqual([...tune.fields].sort(byKind));
  });
});

const byKind = (one: { readonly kind: string }, other: { readonly kind: string }) =>
  one.kind < other.kind ? -1 : 1;
