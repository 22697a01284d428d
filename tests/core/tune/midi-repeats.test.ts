import { describe, expect, test } from "vitest";
import { readAbc } from "../../../core/tune/abc/read-abc.ts";
import { phrasesOf } from "../../../core/tune/phrases.ts";
import { readMidi } from "../../../core/tune/read-midi.ts";
import type { Tune } from "../../../core/tune/tune.ts";
import { writeAbc } from "../../../core/tune/write-abc.ts";
import { writeMidi } from "../../../core/tune/write-midi.ts";
import { END, metre, midiFile, note } from "../../support/midi-file.ts";
import { SHIPPED_FILES, shippedText } from "../../support/shipped-tunes.ts";

function readBack(bytes: Uint8Array): Tune {
  const read = readMidi(bytes);
  const [tune] = read.kind === "tunes" ? read.tunes : [];
  if (tune === undefined) throw new Error(read.kind === "tunes" ? "no tune" : read.reason);
  return tune;
}

const musicOf = (tune: Tune) =>
  writeAbc(tune)
    .split("\n")
    .filter((line) => line !== "" && !/^[A-Z]:/.test(line));

/** One bar of 2/4 for each letter: always the same two crotchets for the same letter. */
function barsOf(letters: string): Uint8Array {
  const notes = [...letters].flatMap((letter) => {
    const pitch = 60 + letter.charCodeAt(0) - "a".charCodeAt(0);
    return [...note(pitch, 480), ...note(pitch + 2, 480)];
  });
  return midiFile([[...metre(2, 2), ...notes, ...END]]);
}
/** For each bar as it is played, the letter of the written bar: "aba" where the third is the first again. */
const playedAs = (letters: string) =>
  readBack(barsOf(letters))
    .bars.map(({ written }) => String.fromCharCode("a".charCodeAt(0) + written))
    .join("");

describe("a MIDI file, which has everything played out, is shown with repeats where bars come again exactly", () => {
  test("strains of eight bars, or four, played twice or three times are written once", () => {
    expect(playedAs("abcdefghabcdefgh")).toBe("abcdefghabcdefgh");
    expect(playedAs("abcdabcdefghefgh")).toBe("abcdabcdefghefgh");
    expect(musicOf(readBack(barsOf("abcdabcdabcd")))[0]).toMatch(/^\|:: .* ::\|$/);
  });

  test("eight bars whose last one or two differ have endings", () => {
    const [first, second] = musicOf(readBack(barsOf("abcdefghabcdefgi"))).slice(1);
    expect(first).toMatch(/\[1 .* :\|$/);
    expect(second).toMatch(/^\[2 /);
    // [calc] Nine and ten bars are written.
    expect(playedAs("abcdefghabcdefgi")).toBe("abcdefghabcdefgi");
    expect(playedAs("abcdefghabcdefij")).toBe("abcdefghabcdefij");
  });

  test("figures that come again within a strain are music, not repeats", () => {
    // [calc] Twelve bars, each written by itself.
    expect(playedAs("ababcdcdabef")).toBe("abcdefghijkl");
    expect(playedAs("aaaabbbbcccc")).toBe("abcdefghijkl");
  });

  test("a strain before them that is played once stays as it is", () => {
    expect(playedAs("abcdefghijklmnopijklmnop")).toBe("abcdefghijklmnopijklmnop");
  });

  test("a note held over the end of a strain is in no repeat", () => {
    const rest = [62, 64, 65, 67, 69, 71].flatMap((pitch) => note(pitch, 960));
    // [calc] Each strain begins a quaver late, as the note before it is 960 + 240 ticks long.
    const strain = (after: number) => [...note(60, 720, after), ...rest, ...note(72, 1200)];
    const held = [...strain(240), ...strain(0), ...strain(0)];
    const { bars } = readBack(midiFile([[...metre(2, 2), ...held, ...END]]));
    expect(bars.every(({ pass }) => pass === 0)).toBe(true);
  });
});

describe("the tunes that come along, written as MIDI and read", () => {
  const tunes = SHIPPED_FILES.flatMap((file) => {
    const read = readAbc(shippedText(file));
    if (read.kind === "unreadable") throw new Error(read.reason);
    return read.tunes.map((tune) => ({ name: `${file} ${tune.number}`, tune }));
  });

  test("have the written bars and phrases they had, but one with endings of four bars", () => {
    const written = ({ bars }: Tune) => new Set(bars.map((bar) => bar.written)).size;
    const unlike = tunes.filter(({ tune }) => written(readBack(writeMidi(tune))) !== written(tune));
    expect(unlike.map(({ name }) => name)).toEqual(["traditional 4"]);
    const spans = (tune: Tune) =>
      phrasesOf(tune, 4).map(({ startTicks, endTicks }) => [startTicks, endTicks]);
    // Where nothing is repeated a MIDI file does not tell where a strain ends: it has no double bar lines.
    const repeated = tunes.filter(({ tune }) => tune.bars.some(({ pass }) => pass > 0));
    expect(repeated.length).toBeGreaterThan(30);
    const cutOtherwise = repeated.filter(
      ({ tune }) => JSON.stringify(spans(tune)) !== JSON.stringify(spans(readBack(writeMidi(tune)))),
    );
    expect(cutOtherwise.map(({ name }) => name)).toEqual(["traditional 4"]);
  });

  test("play exactly the notes they played", () => {
    const played = ({ notes }: Tune) => notes.map((one) => [one.startTicks, one.lengthTicks, one.midi]);
    for (const { name, tune } of tunes) expect(played(readBack(writeMidi(tune))), name).toEqual(played(tune));
  });
});
