import { readAbc } from "../../../../core/tune/abc/read-abc.ts";
import { TICKS_PER_SEMIBREVE, type Tune } from "../../../../core/tune/tune.ts";

/** The one tune of a text. */
export function tuneOf(abc: string, voice?: string): Tune {
  const read = readAbc(abc, voice === undefined ? {} : { voice });
  if (read.kind === "unreadable") throw new Error(read.reason);
  const [tune] = read.tunes;
  if (tune === undefined) throw new Error(read.bad.map(({ reason }) => reason).join("; "));
  return tune;
}

/** A tune in C, L:1/8 and 4/4, but for the fields given. */
export function music(body: string, fields = ""): Tune {
  return tuneOf(`X:1\nT:A tune of ours\nM:4/4\nL:1/8\n${fields === "" ? "" : `${fields}\n`}K:C\n${body}\n`);
}

/** Names of the notes as played. */
export const names = (tune: Tune): string => tune.notes.map(({ name }) => name).join(" ");

/** Lengths as played, in quavers. */
export const quavers = (tune: Tune): readonly number[] =>
  tune.notes.map(({ lengthTicks }) => (lengthTicks * 8) / TICKS_PER_SEMIBREVE);

/** Onsets, in quavers. */
export const onsets = (tune: Tune): readonly number[] =>
  tune.notes.map(({ startTicks }) => (startTicks * 8) / TICKS_PER_SEMIBREVE);

export const words = (tune: Tune): readonly string[] => tune.remarks.map((remark) => remark.words);
