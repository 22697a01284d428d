import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { keyOfFifths } from "../../../core/tune/key-signature.ts";
import { readMusicXml } from "../../../core/tune/read-musicxml.ts";
import type { Tune } from "../../../core/tune/tune.ts";
import { writeMusicXml } from "../../../core/tune/write-musicxml.ts";
import { bpm, midi } from "../../../core/units.ts";
import { anyTune, musicOf, notesOf, tuneOf } from "../../support/any-tune.ts";

/** The text without line ends and indents, so that elements can be looked for. */
const flat = (text: string) => text.replace(/\n\s*/g, "");

function readBack(text: string): Tune {
  const read = readMusicXml(new TextEncoder().encode(text));
  const [only] = read.kind === "tunes" ? read.tunes : [];
  if (only === undefined) throw new Error(read.kind === "tunes" ? "no tune came back" : read.reason);
  return only;
}

const G = { notes: notesOf(["G4", 8]) };
const A = { notes: notesOf(["A4", 8]) };
const B = { notes: notesOf(["B4", 8]) };

describe("MusicXML 4.0 as we write it", () => {
  test("names the instrument as the standard's list of sounds does", () => {
    // [F81] wind.reed.harmonica; [F82] program 23 counted from 1, as midi-program counts.
    const text = flat(writeMusicXml(tuneOf([G])));
    expect(text).toContain("<instrument-sound>wind.reed.harmonica</instrument-sound>");
    expect(text).toContain("<midi-program>23</midi-program>");
  });

  test("has grace notes that end a note after it, and they come back", () => {
    const end = { kind: "after-grace", notes: [{ name: "B4", midi: midi(71) }] };
    const graced = notesOf(["G4", 8]).map((note) => ({ ...note, ornaments: [end] }));
    const text = writeMusicXml(tuneOf([{ notes: graced }]));
    // Element grace: no duration, in the order of playing.
    expect(flat(text)).toMatch(/<step>G<\/step>.*<grace\/>.*<step>B<\/step>/);
    expect(readBack(text).notes.map(({ ornaments }) => ornaments)).toEqual([[end]]);
  });

  test("has repeats and endings as barline elements", () => {
    const tune = tuneOf([
      { ...G, repeatFrom: 2 },
      { ...A, ending: [1], repeatTo: 2 },
      { ...B, ending: [2] },
    ]);
    const text = flat(writeMusicXml(tune));
    // Elements barline, bar-style, ending, repeat, in this order.
    expect(text).toContain(
      '<barline location="left"><bar-style>heavy-light</bar-style><repeat direction="forward"/></barline>',
    );
    expect(text).toContain('<barline location="left"><ending number="1" type="start"/></barline>');
    expect(text).toContain(
      '<barline location="right"><bar-style>light-heavy</bar-style><ending number="1" type="stop"/><repeat direction="backward"/></barline>',
    );
    expect(text).toContain('<ending number="2" type="discontinue"/>');
  });

  test("says a repeat of three times", () => {
    const text = flat(writeMusicXml(tuneOf([{ ...G, repeatFrom: 3, repeatTo: 3 }])));
    expect(text).toContain('<repeat direction="backward" times="3"/>');
  });

  test("has lengths in the longest division that is exact", () => {
    const tune = tuneOf([{ notes: notesOf(["G4", 4], ["A4", 4 / 3], ["B4", 4 / 3], ["G4", 4 / 3]) }]);
    const text = flat(writeMusicXml(tune));
    // [calc] A minim of 2 crotchets and three notes of 2/3: a third of a crotchet divides all; in it the minim has 6.
    expect(text).toContain("<divisions>3</divisions>");
    expect(text).toContain("<duration>6</duration>");
    expect(text).toContain("<actual-notes>3</actual-notes><normal-notes>2</normal-notes>");
  });

  test("writes the key's mode, and letter by letter what is no usual signature", () => {
    expect(flat(writeMusicXml(tuneOf([G], { key: keyOfFifths(1, "dorian", true) })))).toContain(
      "<key><fifths>1</fifths><mode>dorian</mode></key>",
    );
    const own = { tonic: "D", mode: null, signature: { F: 1, B: -1 }, sure: false } as const;
    expect(flat(writeMusicXml(tuneOf([G], { key: own })))).toContain(
      "<key><key-step>F</key-step><key-alter>1</key-alter><key-step>B</key-step><key-alter>-1</key-alter></key>",
    );
  });

  test("tells the tempo to people and to players, who count crotchets", () => {
    const text = flat(
      writeMusicXml(tuneOf([G], { tempo: { noteValue: "3/8", bpm: bpm(116) }, tempoFrom: "tune" })),
    );
    expect(text).toContain("<beat-unit>quarter</beat-unit><beat-unit-dot/><per-minute>116</per-minute>");
    // [calc] 116 · 3/8 ÷ 1/4 = 174.
    expect(text).toContain('<sound tempo="174"/>');
  });

  test("writes text safely, whatever it holds", () => {
    const title = `a < b & "c" \u0000\u{1F3B5} \uD800`;
    // Characters XML 1.0 does not have (section 2.2) become spaces.
    expect(readBack(writeMusicXml(tuneOf([G], { title }))).title).toBe('a < b & "c" \u{1F3B5}');
  });
});

describe("tab", () => {
  const tune = tuneOf([
    { ...G, repeatFrom: 2 },
    { ...A, repeatTo: 2 },
  ]);

  test("stands in a lyric line, once where both passes have the same", () => {
    const text = flat(writeMusicXml(tune, { texts: ["+3", "-3", "+3", "-3"] }));
    expect(text.match(/<text>[^<]*<\/text>/g)).toEqual(["<text>+3</text>", "<text>-3</text>"]);
    expect(text).not.toContain("<hole");
  });

  test("has a verse for each pass where they differ", () => {
    const text = flat(writeMusicXml(tune, { texts: ["+3", "-3", "-2", "-3"] }));
    expect(text).toContain(
      '<lyric number="1"><syllabic>single</syllabic><text>+3</text></lyric><lyric number="2"><syllabic>single</syllabic><text>-2</text></lyric>',
    );
  });

  test("can be technical instead, by the element the standard has for what it does not name", () => {
    const text = flat(writeMusicXml(tune, { texts: ["+3", "-3", "+3", "-3"], as: "technical" }));
    // [F81] technical / other-technical.
    expect(text).toContain("<technical><other-technical>+3</other-technical></technical>");
    expect(text).not.toContain("<lyric");
  });
});

describe("what is written is read back the same", () => {
  test("notes, bars, chord symbols, key and tempo of any tune, and tab disturbs nothing", () => {
    fc.assert(
      fc.property(anyTune, (tune) => {
        const texts = tune.notes.map((note) => `${note.midi}`);
        const back = readBack(writeMusicXml(tune, { texts }));
        expect(musicOf(back)).toEqual(musicOf(tune));
        expect({ ...back.key, sure: true }).toEqual({ ...tune.key, sure: true });
        expect(back.tempo).toEqual(tune.tempo);
      }),
      { numRuns: 40 },
    );
  });

  test("titles, fields, rhythm and a key without a mode", () => {
    const tune = tuneOf([G], {
      title: "First Name",
      otherTitles: ["Second Name"],
      fields: [
        { kind: "composer", text: "a member of the band" },
        { kind: "copyright", text: "the band" },
        { kind: "source", text: "the autumn dance" },
      ],
      rhythm: "reel",
      key: { tonic: "G", mode: null, signature: { F: 1, C: 1 }, sure: false },
    });
    const back = readBack(writeMusicXml(tune));
    expect({ ...back, remarks: [], notes: [], tempo: null, tempoFrom: null }).toEqual({
      ...tune,
      dance: "reel",
      remarks: [],
      notes: [],
      tempo: null,
      tempoFrom: null,
    });
  });

  test("ornaments with an element of their own, and those without", () => {
    const kinds = ["trill", "turn", "lowermordent", "accent", "staccato", "upbow", "fermata", "roll"];
    const notes = notesOf(...kinds.map(() => ["G4", 1] as const)).map((note, at) => ({
      ...note,
      ornaments: [{ kind: kinds[at] ?? "", notes: [] }],
    }));
    const text = writeMusicXml(tuneOf([{ notes }]));
    // Elements trill-mark, turn, mordent; accent, staccato; up-bow; fermata; other-ornament.
    for (const name of [
      "trill-mark",
      "turn",
      "mordent",
      "accent",
      "staccato",
      "up-bow",
      "fermata",
      "other-ornament",
    ]) {
      expect(text).toMatch(new RegExp(`<${name}[/>]`));
    }
    expect(readBack(text).notes.map((note) => note.ornaments[0]?.kind)).toEqual(kinds);
  });

  test("a chord: its highest note is the tune's", () => {
    const notes = notesOf(["D5", 8]).map((note) => ({ ...note, chord: [midi(67), midi(71)] }));
    const [note] = readBack(writeMusicXml(tuneOf([{ notes }]))).notes;
    // [calc] G4 = 67, B4 = 71, D5 = 74.
    expect([note?.midi, note?.chord]).toEqual([74, [67, 71]]);
  });
});
