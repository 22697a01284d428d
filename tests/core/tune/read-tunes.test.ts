import { describe, expect, test } from "vitest";
import { readTunes, tuneFileKind } from "../../../core/tune/read-tunes.ts";
import { keyInWords } from "../../../core/tune/tune-list.ts";
import { END, key, metre, midiFile, note as midiNote, text } from "../../support/midi-file.ts";
import { begin, bytesOf, CONTAINER, note, score, zipped } from "../../support/musicxml.ts";
import { shippedText } from "../../support/shipped-tunes.ts";

const ABC = "X:1\nT:Tune by Hand\nM:4/4\nL:1/8\nK:G\nG4 A4|B8|]\n";
const XML = score(begin(note("G4", 4) + note("A4", 4)));
const MXL = zipped({ "META-INF/container.xml": CONTAINER, "score.musicxml": XML });
const MELODY = [...text(3, "Melody"), ...metre(4, 2), ...key(1, 0)];
const MIDI = midiFile([
  [...MELODY, ...midiNote(69, 960), ...midiNote(66, 960), ...midiNote(69, 1920), ...END],
]);

const tunesOf = (bytes: Uint8Array, choices = {}) => {
  const read = readTunes(bytes, choices);
  if (read.kind === "unreadable") throw new Error(read.reason);
  return read;
};

describe("the kind of a file", () => {
  const utf16 = (words: string) =>
    new Uint8Array([0xff, 0xfe, ...[...words].flatMap((letter) => [letter.charCodeAt(0), 0])]);

  test.each([
    ["an ABC text", bytesOf(ABC), "ABC"],
    ["ABC after a byte order mark", bytesOf(`\uFEFF${ABC}`), "ABC"],
    ["ABC in UTF-16", utf16(ABC), "ABC"],
    ["ABC under a title that begins as a ZIP does", bytesOf(`PK's tunes\n\n${ABC}`), "ABC"],
    ["ABC under a heading in angle brackets", bytesOf(`<my tunes>\n\n${ABC}`), "ABC"],
    ["a MusicXML score", bytesOf(XML), "MusicXML"],
    ["a score without an XML declaration", bytesOf(XML.slice(XML.indexOf("<score"))), "MusicXML"],
    ["a score after white space", bytesOf(`\n  ${XML}`), "MusicXML"],
    ["a score in UTF-16", utf16(XML), "MusicXML"],
    ["a compressed score", MXL, "compressed MusicXML"],
    ["a MIDI file", MIDI, "MIDI"],
    ["a MIDI file within RIFF", bytesOf("RIFF....RMID"), "MIDI"],
    ["a sound file", new Uint8Array([...bytesOf("RIFF"), 36, 0, 0, 0, ...bytesOf("WAVEfmt ")]), null],
    ["a picture", new Uint8Array([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 13]), null],
  ])("is told by what is in it: %s", (_, bytes, kind) => {
    expect(tuneFileKind(bytes)).toBe(kind);
  });
});

describe("a file of tunes", () => {
  test.each([
    ["ABC", bytesOf(ABC), ["G4", "A4", "B4"]],
    ["MusicXML", bytesOf(XML), ["G4", "A4"]],
    ["compressed MusicXML", MXL, ["G4", "A4"]],
    // [calc] MIDI 69 is A4, 66 is F#4.
    ["MIDI", MIDI, ["A4", "F#4", "A4"]],
  ])("of the kind %s gives its notes", (kind, bytes, names) => {
    const read = tunesOf(bytes);
    expect(read.file).toBe(kind);
    expect(read.tunes.map((tune) => tune.notes.map(({ name }) => name))).toEqual([names]);
  });

  test("of ABC gives all tunes that come along", () => {
    expect(tunesOf(bytesOf(shippedText("traditional"))).tunes).toHaveLength(33);
  });

  test.each([
    ["ABC", bytesOf("some words"), /^ABC: there is no tune in this text/],
    ["ABC", new Uint8Array(), /^ABC: there is no tune in this text/],
    ["MusicXML", bytesOf('<?xml version="1.0"?><score-partwise><part'), /^MusicXML: line 1, column \d+: /],
    ["compressed MusicXML", MXL.slice(0, 60), /^compressed MusicXML: /],
    ["MIDI", MIDI.slice(0, 10), /^MIDI: /],
  ])("that is broken names its kind, %s, and the fault", (_, bytes, reason) => {
    const read = readTunes(bytes);
    expect(read.kind).toBe("unreadable");
    expect(read.kind === "unreadable" ? read.reason : "").toMatch(reason);
  });

  test("of no kind is refused", () => {
    expect(readTunes(new Uint8Array([0, 1, 2, 3]))).toEqual({
      kind: "unreadable",
      reason: "this is neither ABC nor MusicXML nor MIDI",
    });
  });
});

describe("choices for a MIDI file", () => {
  test("the mode keeps the signature and moves the home note", () => {
    // [F47] One sharp: G major, A dorian, D mixolydian, E minor.
    const keys = (["major", "dorian", "mixolydian", "minor"] as const).map((mode) => {
      const [tune] = tunesOf(MIDI, { mode }).tunes;
      return tune === undefined ? "" : `${keyInWords(tune.key)} ${tune.key.sure}`;
    });
    expect(keys).toEqual(["G major true", "A dorian true", "D mixolydian true", "E minor true"]);
  });

  test("without one the file's is taken, and said not to be sure", () => {
    expect(tunesOf(MIDI).tunes[0]?.key).toMatchObject({ tonic: "G", mode: "major", sure: false });
  });

  test("the grid is told with how far it moved the notes", () => {
    // [calc] 480 ticks a crotchet at half a second: 20 ticks early are 20.8 ms.
    const loose = midiFile([
      [...MELODY, ...midiNote(69, 460), ...midiNote(71, 500), ...midiNote(69, 960), ...END],
    ]);
    const { midi } = tunesOf(loose, { grid: "1/8" });
    expect(midi?.quantised.grid).toBe("1/8");
    expect(midi?.quantised.largestShift).toBeCloseTo(20.8, 1);
  });

  test("an upbeat is the first bar, as long as it was said to be", () => {
    // [calc] A minim of 4/4: half of 161,280 ticks.
    const [tune] = tunesOf(MIDI, { upbeatCrotchets: 2 }).tunes;
    expect(tune?.bars[0]).toMatchObject({ kind: "pick-up", lengthTicks: 80_640 });
    expect(tunesOf(MIDI).tunes[0]?.bars[0]).toMatchObject({ kind: "whole", lengthTicks: 161_280 });
  });

  test("a track that is not there is named", () => {
    expect(readTunes(MIDI, { track: 7 })).toEqual({
      kind: "unreadable",
      reason: "MIDI: there is no track 7; there are 0 to 0",
    });
  });
});
