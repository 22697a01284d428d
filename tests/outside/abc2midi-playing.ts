import { spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import MidiFile from "@tonejs/midi";

/** What sounds at one moment: keys from the lowest, onset and length in quavers. */
export interface Sounding {
  readonly keys: readonly number[];
  readonly onset: number;
  readonly length: number;
}

/** Without fermatas held, grace notes played and chord symbols sounded: their performance is each program's own. */
const PLAIN = ["-quiet", "-NFER", "-NGRA", "-NGUI"];
/** abc2midi strikes the notes of a chord one after another, each up to 20 ticks of 480 later, and all notes 2 ticks late. */
const SPREAD = 0.12;

/**
 * A tune as abc2midi 4.84 plays it, alone in its file: it lets transpose= of one tune go on into the next.
 *
 * @param number its X:
 * @returns the tracks that have notes; none where abc2midi wrote no file
 */
export function playedByAbc2midi(abc: string, number: number): readonly (readonly Sounding[])[] {
  const folder = mkdtempSync(join(tmpdir(), "abc2midi-"));
  try {
    writeFileSync(join(folder, "tune.abc"), abc);
    spawnSync("abc2midi", ["tune.abc", String(number), ...PLAIN, "-o", "tune.mid"], { cwd: folder });
    return tracksOf(join(folder, "tune.mid"));
  } finally {
    rmSync(folder, { recursive: true });
  }
}

function tracksOf(path: string): readonly (readonly Sounding[])[] {
  if (!existsSync(path)) return [];
  const midi = new MidiFile.Midi(readFileSync(path));
  const perQuaver = midi.header.ppq / 2;
  return midi.tracks
    .filter(({ notes }) => notes.length > 0)
    .map(({ notes }) =>
      together(
        notes.map(({ midi: key, ticks, durationTicks }) => ({
          key,
          onset: ticks / perQuaver,
          end: (ticks + durationTicks) / perQuaver,
        })),
      ),
    );
}

function together(notes: readonly { key: number; onset: number; end: number }[]): readonly Sounding[] {
  const sounding: { keys: number[]; onset: number; end: number }[] = [];
  for (const { key, onset, end } of [...notes].sort((a, b) => a.onset - b.onset)) {
    const last = sounding.at(-1);
    if (last !== undefined && onset - last.onset < SPREAD && Math.abs(end - last.end) < SPREAD)
      last.keys.push(key);
    else sounding.push({ keys: [key], onset, end });
  }
  return sounding.map(({ keys, onset, end }) => ({
    // Two notes of a chord that sound the same are one.
    keys: [...new Set(keys)].sort((a, b) => a - b),
    onset,
    length: end - onset,
  }));
}
