import { EMPTY_SUMMARY, withRecord } from "../../core/archive/archive-summary.ts";
import { readArchiveFile } from "./archive-file.ts";
import { fileWords, readArguments } from "./arguments.ts";
import { CommandError } from "./command-error.ts";
import type { Io } from "./io.ts";

/** More would be more than anyone reads. */
const MOST_FAULTS_TOLD = 100;

/** Looks a whole archive through and prints what it holds; records that cannot be read are named by line and field. */
export async function archive(args: readonly string[], io: Io): Promise<void> {
  const [path = ""] = fileWords(readArguments(args, []), ["ARCHIVE"]);
  let summary = EMPTY_SUMMARY;
  const faults: { readonly line: number; readonly reason: string }[] = [];
  let unreadable = 0;
  for await (const event of readArchiveFile(path)) {
    if (event.kind === "record") summary = withRecord(summary, event.record);
    if (event.kind !== "fault") continue;
    unreadable += 1;
    if (faults.length < MOST_FAULTS_TOLD) faults.push({ line: event.line, reason: event.reason });
  }
  const { counts, starred, demo, days } = summary;
  const told = { attempts: counts.attempt, starred, madeUp: demo, takes: counts.take, days };
  const rest = {
    tunes: counts.tune,
    studies: counts.study,
    layouts: counts.layout,
    harps: counts.harp,
    setLists: counts["set list"],
    wishes: counts.wish,
    settings: counts.settings > 0,
  };
  const whole = { schema: "reedpath.archive-summary", version: 1, ...told, ...rest, unreadable, faults };
  io.stdout(`${JSON.stringify(whole, null, 2)}\n`);
  if (unreadable > 0) throw new CommandError(`${unreadable} of its records cannot be read`, 1);
}
