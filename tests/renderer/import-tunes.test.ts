import { describe, expect, test } from "vitest";
import { readAbc } from "../../core/tune/abc/read-abc.ts";
import { writeMusicXml } from "../../core/tune/write-musicxml.ts";
import { importTunes } from "../../renderer/tunes/import-tunes.ts";
import { notesOf, tuneOf } from "../support/any-tune.ts";
import { END, key, midiFile, note } from "../support/midi-file.ts";

const MUSICXML = new TextEncoder().encode(writeMusicXml(tuneOf([{ notes: notesOf(["G4", 4], ["A4", 4]) }])));
const MIDI = midiFile([[...key(1, 0), ...note(69, 960), ...note(66, 960), ...END]]);
const all = (...args: Parameters<typeof importTunes>) => [...importTunes(...args)];

describe("a file brought in", () => {
  test("of MusicXML is kept as ABC with the same notes, whatever its name", () => {
    const [some] = all("hall.abc", MUSICXML);
    expect(some).toMatchObject({ done: 1, of: 1, leftOut: [] });
    const [kept] = some?.tunes ?? [];
    expect(kept).toMatchObject({ title: "Tune by Hand", from: "hall.abc", begins: "GA" });
    const read = readAbc(kept?.abc ?? "");
    expect(read.kind === "tunes" && read.tunes[0]?.notes.map(({ name }) => name)).toEqual(["G4", "A4"]);
  });

  test("of MIDI is kept in the mode chosen, and without a title takes the file's name", () => {
    // [F47] One sharp is A dorian.
    const [some] = all("autumn set.mid", MIDI, { mode: "dorian" });
    expect(some?.tunes[0]).toMatchObject({ title: "autumn set", key: "A dorian" });
  });

  test.each([
    ["cut.xml", MUSICXML.slice(0, 200), /^cut\.xml: MusicXML: line \d+, column \d+: /],
    ["picture.abc", new Uint8Array([0x89, 0x50, 0x4e, 0x47, 0, 0]), /^picture\.abc: this is neither ABC nor/],
    ["words.abc", new TextEncoder().encode("words"), /^words\.abc: ABC: there is no tune in this text/],
  ])("that cannot be read is named with its kind: %s", (name, bytes, reason) => {
    expect(() => all(name, bytes)).toThrow(reason);
  });
});
