import { describe, expect, test } from "vitest";
import { LIMITS } from "../../../core/reading/limits.ts";
import { midiTracks, readMidi } from "../../../core/tune/read-midi.ts";
import { END, metre, midiFile, note, text } from "../../support/midi-file.ts";

function reasonOf(bytes: Uint8Array): string {
  const read = readMidi(bytes);
  const listed = midiTracks(bytes);
  if (read.kind === "tunes") throw new Error("the file was read");
  // What has no notes can still be listed.
  if (listed.kind === "unreadable") expect(listed.reason).toBe(read.reason);
  return read.reason;
}

const track = [...text(3, "Melody"), ...note(62, 480), ...note(64, 480), ...END];
const good = midiFile([track]);
const patched = (at: number, ...values: readonly number[]) => {
  const copy = good.slice();
  copy.set(values, at);
  return copy;
};
const lone = (...events: readonly (readonly number[])[]) => midiFile([[...events.flat(), ...END]], 0);

describe("files that are no MIDI files", () => {
  test.each([
    [new Uint8Array(), "an empty file"],
    [new TextEncoder().encode("X:1\nK:C\n"), "not a MIDI file: it does not begin with MThd"],
    [new TextEncoder().encode("M"), "not a MIDI file: it does not begin with MThd"],
    [new TextEncoder().encode("RIFF....RMID"), "a MIDI file within RIFF (.rmi) is not read; save it as .mid"],
    [new Uint8Array(LIMITS.midiBytes.most + 1), "the file has 8,000,001 bytes; at most 8,000,000 are read"],
  ])("%# is refused with its reason", (bytes, reason) => {
    expect(reasonOf(bytes)).toBe(reason);
  });
});

describe("headers", () => {
  // SMF 1.0: format in bytes 8 and 9, number of tracks in 10 and 11, division in 12 and 13.
  test.each([
    [patched(9, 2), "MIDI files of format 2 are not read, only 0 and 1"],
    [patched(10, 0xff, 0xff), "65,535 tracks; at most 1,000 are read"],
    [patched(11, 2), "cut off: the header says 2 tracks, the file has 1"],
    [patched(12, 0xe7, 40), "time is counted in film frames, not in crotchets: there are no bars to read"],
    [patched(12, 0, 0), "broken: the header says 0 ticks to the crotchet"],
    [patched(4, 0x7f), "cut off at byte 8: "],
  ])("%# is refused with its reason", (bytes, reason) => {
    expect(reasonOf(bytes)).toContain(reason);
  });

  test("more than today's are read: a later standard may add to them", () => {
    const longer = new Uint8Array([...good.subarray(0, 14), 0, 0, ...good.subarray(14)]);
    longer[7] = 8;
    expect(readMidi(longer).kind).toBe("tunes");
  });

  test("other chunks are skipped", () => {
    const strange = [..."XFIH"].map((letter) => letter.charCodeAt(0));
    const withMore = new Uint8Array([
      ...good.subarray(0, 14),
      ...strange,
      0,
      0,
      0,
      2,
      1,
      2,
      ...good.subarray(14),
    ]);
    expect(readMidi(withMore).kind).toBe("tunes");
  });
});

describe("tracks", () => {
  test("cut off anywhere are refused, never read in part", () => {
    for (let length = 1; length < good.length; length++) {
      expect(reasonOf(good.subarray(0, length))).toMatch(/^(cut off|not a MIDI file)/);
    }
  });

  test.each([
    [lone([0, 62, 80]), "data without an event they belong to"],
    [lone([0, 0x90, 200, 80]), "a data byte of 200; at most 127 is possible"],
    [lone([0xff, 0xff, 0xff, 0xff, 0x7f, 0x90, 62, 80]), "a length of more than four bytes"],
    [lone([0, 0xff, 0x03, 0x87, 0x7f]), "bytes are announced"],
    [lone([0, 0xff, 0x51, 1, 7]), "a tempo of 1 bytes; it has 3"],
    [lone([0, 0xff, 0x58, 2, 4, 2]), "a time signature of 2 bytes; it has 4"],
    [lone([0, 0xf4]), "244 begins no event of a file"],
    [lone(text(1, "words only")), "the file has no notes"],
    [
      lone(note(62, 480), [0xff, 0xff, 0xff, 0x7f, 0x80, 62, 0]),
      "more than 172,800 crotchets, the most that is read",
    ],
  ])("%# is refused with its reason", (bytes, reason) => {
    expect(reasonOf(bytes)).toContain(reason);
  });

  test("faults say their byte, counted from 0", () => {
    // [calc] Header 14 bytes, head of the track 8, time 1, status 1: the data byte is byte 24.
    expect(reasonOf(lone([0, 0x90, 200, 80]))).toBe(
      "broken at byte 24: a data byte of 200; at most 127 is possible",
    );
  });

  test("of more notes than a tune has are refused", () => {
    // SMF 1.0: with running status a note is on and off in six bytes; 20,001 of them need a track of 120,007 bytes.
    const notes = Array.from({ length: 20_001 }, () => [1, 62, 80, 1, 62, 0]).flat();
    const many = [0, 0x90, 62, 0, ...notes, ...END];
    const file = midiFile([many], 0);
    file.set([0, many.length >> 16, (many.length >> 8) & 0xff, many.length & 0xff], 18);
    expect(reasonOf(file)).toBe("the track has 20,001 notes; at most 20,000 are read");
  });

  test("of more bars than there can be are stopped", () => {
    // [calc] In 1/64, 20,000 bars are 1,250 crotchets; the last note begins after 2,000 of 96 ticks each.
    const late = [0x8b, 0xdc, 0x00, 0x90, 62, 80, 96, 0x80, 62, 0];
    const fine = midiFile([[...metre(1, 6), 0, 0x90, 60, 80, 96, 0x80, 60, 0, ...late, ...END]], 0, 96);
    expect(reasonOf(fine)).toBe("more than 20,000 bars, the most that is read");
  });
});
