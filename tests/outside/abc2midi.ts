import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import MidiFile from "@tonejs/midi";

/** A note as abc2midi plays it; start and length in semibreves. */
export interface PlayedNote {
  readonly midi: number;
  readonly start: number;
  readonly length: number;
}

/** Without grace notes, held fermatas and chord symbols: their performance is the program's own. */
const PLAIN = ["-NGRA", "-NFER", "-NGUI"];

/** What abc2midi says of bars that do not add up, a line each. */
export function abc2midiBarWarnings(abc: string): readonly string[] {
  return inFolder(abc, (folder) => {
    const { stdout } = spawnSync("abc2midi", ["tunes.abc", "-c"], { cwd: folder, encoding: "utf8" });
    return stdout.split("\n").filter((line) => /\bBar \d+ has\b/.test(line));
  });
}

/** Notes of one tune in the order they sound. */
export function abc2midiNotes(abc: string, number: number): readonly PlayedNote[] {
  return inFolder(abc, (folder) => {
    spawnSync("abc2midi", ["tunes.abc", String(number), ...PLAIN, "-o", "tune.mid"], { cwd: folder });
    const midi = new MidiFile.Midi(readFileSync(join(folder, "tune.mid")));
    const semibreve = 4 * midi.header.ppq;
    return midi.tracks.flatMap(({ notes }) =>
      notes.map((note) => ({
        midi: note.midi,
        start: note.ticks / semibreve,
        length: note.durationTicks / semibreve,
      })),
    );
  });
}

function inFolder<T>(abc: string, work: (folder: string) => T): T {
  const folder = mkdtempSync(join(tmpdir(), "abc2midi-"));
  try {
    writeFileSync(join(folder, "tunes.abc"), abc);
    return work(folder);
  } finally {
    rmSync(folder, { recursive: true });
  }
}
