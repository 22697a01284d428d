import { readdir, stat } from "node:fs/promises";
import path from "node:path";
import { byName, isRecordingName } from "../../core/listen/recording-names.ts";
import type { Attempt } from "../../core/score/attempt.ts";
import { toCsv } from "../../core/score/csv.ts";
import { type RecordingResult, resultsTable, toldOf } from "../../core/score/recording-results.ts";
import { CommandError, inOneLine } from "./command-error.ts";
import type { Io } from "./io.ts";

export const ATTEMPTS_SCHEMA = "reedpath.attempts";
export const ATTEMPTS_VERSION = 1;

/** A file to be marked, or why what was named cannot even be looked for. */
interface Named {
  readonly file: string;
  readonly reason: string | null;
}

/**
 * Files as they were named; a folder stands for the recordings in it and in the folders within, in the order of their
 * names.
 */
export async function recordingsOf(words: readonly string[]): Promise<readonly Named[]> {
  const named = await Promise.all(
    words.map(async (word) => ((await isFolder(word)) ? inFolder(word) : [whole(word)])),
  );
  return named.flat();
}

const whole = (file: string): Named => ({ file, reason: null });

/** What cannot be looked at is left to whoever reads it, who says why. */
export const isFolder = (word: string): Promise<boolean> =>
  stat(word).then(
    (about) => about.isDirectory(),
    () => false,
  );

async function inFolder(folder: string): Promise<readonly Named[]> {
  try {
    const entries = await readdir(folder, { recursive: true, withFileTypes: true });
    const files = entries
      .filter((entry) => entry.isFile() && isRecordingName(entry.name))
      .map((entry) => path.join(entry.parentPath, entry.name))
      .sort(byName);
    return files.length === 0
      ? [{ file: folder, reason: "there is no recording in this folder" }]
      : files.map(whole);
  } catch {
    return [{ file: folder, reason: "this folder cannot be looked into" }];
  }
}

type Scored = { readonly file: string } & ({ readonly attempt: Attempt } | { readonly reason: string });

/**
 * Prints what became of each of many recordings. One that cannot be marked never loses the others.
 *
 * @param mark marks one file; throws what is wrong with it
 * @throws CommandError with status 1, after everything is printed, if any could not be marked
 */
export async function scoreMany(
  words: readonly string[],
  mark: (file: string) => Promise<Attempt>,
  as: "json" | "csv",
  io: Io,
): Promise<void> {
  const scored: Scored[] = [];
  const results: RecordingResult[] = [];
  for (const { file, reason } of await recordingsOf(words)) {
    const one = reason === null ? await scoreOne(file, mark) : { file, reason };
    if (as === "json") scored.push(one);
    // Of hundreds of recordings the table keeps no marks.
    results.push(
      "attempt" in one
        ? { kind: "marked", name: file, told: toldOf(one.attempt) }
        : { kind: "not marked", name: file, reason: one.reason },
    );
  }
  io.stdout(as === "csv" ? toCsv(resultsTable(results)) : `${JSON.stringify(listOf(scored), null, 2)}\n`);
  const failed = results.filter((result) => result.kind === "not marked").length;
  if (failed > 0) throw new CommandError(`${failed} of ${results.length} could not be marked`, 1);
}

const listOf = (recordings: readonly Scored[]) => ({
  schema: ATTEMPTS_SCHEMA,
  version: ATTEMPTS_VERSION,
  recordings,
});

async function scoreOne(file: string, mark: (file: string) => Promise<Attempt>): Promise<Scored> {
  try {
    return { file, attempt: await mark(file) };
  } catch (error) {
    const line = inOneLine(error);
    return { file, reason: line.startsWith(`${file}: `) ? line.slice(file.length + 2) : line };
  }
}
