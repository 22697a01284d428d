import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { readAbc } from "../../core/tune/abc/read-abc.ts";
import { readMidi } from "../../core/tune/read-midi.ts";
import { TICKS_PER_SEMIBREVE, type Tune } from "../../core/tune/tune.ts";
import { writeAbc } from "../../core/tune/write-abc.ts";
import { anyPlainTune } from "../support/any-tune.ts";
import { shippedTunes } from "../support/shipped-tunes.ts";
import { hasTool } from "./tools.ts";

const QUAVER = TICKS_PER_SEMIBREVE / 8;
/** Without grace notes, chord symbols and held fermatas: their performance is each program's own. */
const PLAIN = ["-quiet", "-NFER", "-NGRA", "-NGUI"];

/** The MIDI file abc2midi 4.84 makes of a tune. */
function abc2midi(abc: string): Uint8Array {
  const folder = mkdtempSync(join(tmpdir(), "abc2midi-"));
  try {
    writeFileSync(join(folder, "tune.abc"), abc);
    spawnSync("abc2midi", ["tune.abc", ...PLAIN, "-o", "tune.mid"], { cwd: folder });
    return new Uint8Array(readFileSync(join(folder, "tune.mid")));
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** Keys, lowest first, onset and length in quavers. */
type Sounding = readonly [keys: string, onset: number, length: number];

/** Onsets count from the first note: abc2midi does not say where the first bar begins. */
function soundingOf({ notes }: Tune): readonly Sounding[] {
  const begins = notes[0]?.startTicks ?? 0;
  return notes.map(({ midi, chord = [], startTicks, lengthTicks }) => [
    [...chord, midi].join("+"),
    (startTicks - begins) / QUAVER,
    lengthTicks / QUAVER,
  ]);
}

function tuneOfAbc(abc: string): Tune {
  const read = readAbc(abc);
  const [only] = read.kind === "tunes" ? read.tunes : [];
  if (only === undefined) throw new Error(`not read:\n${abc}`);
  return only;
}

function tuneOfMidi(bytes: Uint8Array): Tune {
  const read = readMidi(bytes);
  const [only] = read.kind === "tunes" ? read.tunes : [];
  if (only === undefined) throw new Error(read.kind === "tunes" ? "no tune" : read.reason);
  return only;
}

describe.skipIf(!hasTool("abc2midi"))("MIDI files of abc2midi 4.84", () => {
  const texts = [...shippedTunes("traditional"), ...shippedTunes("village-band")].map((text) => ({
    title: /^T:(.*)$/m.exec(text)?.[1] ?? "",
    // abc2midi swings what is called a hornpipe, and sounds a roll as several notes.
    text: text.replace(/^R:.*\n/m, "").replaceAll("~", ""),
  }));

  test("there are tunes to compare", () => {
    expect(texts.length).toBeGreaterThan(20);
  });

  test.each(texts)("are read as the ABC they were made of: $title", ({ text }) => {
    expect(soundingOf(tuneOfMidi(abc2midi(`${text}\n`)))).toEqual(soundingOf(tuneOfAbc(text)));
  });

  test("play the ABC we write as the tune we wrote", () => {
    fc.assert(
      fc.property(anyPlainTune.map(comparable), (tune) => {
        expect(soundingOf(tuneOfMidi(abc2midi(writeAbc(tune))))).toEqual(soundingOf(tune));
      }),
      { numRuns: 60, seed: 1903, endOnFailure: true },
    );
  });
});

/** Without what abc2midi performs in its own way: ornaments, and stretches played three times. */
function comparable(tune: Tune): Tune {
  const plain = tune.notes.map((note) => ({ ...note, ornaments: [] }));
  // Bars with numbers of their own are written out, not folded.
  const thrice = tune.bars.some((bar) => bar.pass > 1);
  const bars = thrice ? tune.bars.map((bar) => ({ ...bar, written: bar.index, pass: 0 })) : tune.bars;
  return { ...tune, bars, notes: plain, chords: [] };
}
