import type { Place, ReadTunes, Tune } from "../../core/tune/tune.ts";

/**
 * What a reading of a file fails to give that it owes its callers whatever the file was: see core/tune/tune.ts.
 *
 * @param lines of the file
 * @returns empty where all is as it should be
 */
export function faultsOfReading(read: ReadTunes, lines: number): readonly string[] {
  if (read.kind === "unreadable") return faultsOfWords(read.reason);
  return [
    ...read.bad.flatMap(({ reason, place }) => [...faultsOfWords(reason), ...faultsOfPlace(place, lines)]),
    ...read.tunes.flatMap((tune) => faultsOfTune(tune, lines)),
  ];
}

/** Plain words on one line: no markup of a library, no end of line. What is quoted from the file may be anything. */
function faultsOfWords(words: string): readonly string[] {
  const ours = words.replace(/"[^"\n]*"|![^!\n]*!/g, "");
  return words === "" || words.includes("\n") || /<span|&lt;|&amp;/.test(ours)
    ? [`not a sentence: ${words}`]
    : [];
}

function faultsOfPlace(place: Place | null, lines: number): readonly string[] {
  if (place === null) return [];
  const { line, column } = place;
  return line >= 1 && line <= lines && column >= 1
    ? []
    : [`line ${line}, column ${column} is not in the file`];
}

/** Bars lie end to end, notes within them and in order, all in whole ticks. */
function faultsOfTune(tune: Tune, lines: number): readonly string[] {
  const faults = tune.remarks.flatMap(({ words, place }) => [
    ...faultsOfWords(words),
    ...faultsOfPlace(place, lines),
  ]);
  let end = 0;
  for (const [index, bar] of tune.bars.entries()) {
    if (bar.index !== index || bar.startTicks !== end || !isLength(bar.lengthTicks))
      faults.push(`bar ${index}`);
    end = bar.startTicks + bar.lengthTicks;
  }
  let last = 0;
  for (const [index, note] of tune.notes.entries()) {
    const bar = tune.bars[note.bar];
    const within =
      bar !== undefined &&
      note.startTicks >= bar.startTicks &&
      note.startTicks < bar.startTicks + bar.lengthTicks;
    const inOrder = note.index === index && note.startTicks >= last && isLength(note.lengthTicks);
    const sounds = Number.isInteger(note.midi) && note.midi >= 0 && note.midi <= 127;
    if (!within || !inOrder || !sounds) faults.push(`note ${index}`);
    last = note.startTicks + note.lengthTicks;
  }
  if (tune.notes.length === 0) faults.push("no notes");
  if (last > end) faults.push("the last note outlasts the last bar");
  return faults;
}

const isLength = (ticks: number): boolean => Number.isInteger(ticks) && ticks > 0;
