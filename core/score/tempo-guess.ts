import type { Played, Written } from "./align-costs.ts";

/** Distances between notes this near in ratio speak for one tempo. */
const BIN_OCTAVES = 0.08;
/** Fewer agreeing pairs, or a smaller share of all, say nothing. */
const LEAST_PAIRS = 3;
const LEAST_SHARE = 0.4;

/**
 * Seconds played for each second written, by the pairs of neighbouring notes that are both played and written: their
 * distances played over their distances written, where most agree.
 *
 * @returns 1 where too few agree; 2 at half the tempo asked for
 */
export function guessStretch(written: readonly Written[], played: readonly Played[]): number {
  const lengths = writtenSteps(written);
  const ratios: number[] = [];
  let usable = 0;
  const notes = played.filter((note) => note.midi !== null && !note.short);
  for (const [place, next] of notes.entries()) {
    const note = notes[place - 1];
    if (note?.midi == null || next.midi === null) continue;
    const found = lengths.get(stepName(note.midi, next.midi));
    if (found === undefined) continue;
    usable++;
    // A pair may be written in several lengths; each speaks once.
    for (const length of found) ratios.push((next.onSeconds - note.onSeconds) / length);
  }
  const agreeing = mostAgreed(ratios.filter((ratio) => ratio > 0).sort((a, b) => a - b));
  if (agreeing.length < LEAST_PAIRS || agreeing.length < LEAST_SHARE * usable) return 1;
  return agreeing[agreeing.length >> 1] ?? 1;
}

const stepName = (from: number, to: number) => `${Math.round(from)} ${Math.round(to)}`;

/** The different distances in seconds of each two pitches written next to one another. */
function writtenSteps(written: readonly Written[]): ReadonlyMap<string, ReadonlySet<number>> {
  const steps = new Map<string, Set<number>>();
  for (const [place, next] of written.entries()) {
    const note = written[place - 1];
    if (note === undefined) continue;
    const name = stepName(note.midi, next.midi);
    const length = Math.round(1e6 * (next.onSeconds - note.onSeconds)) / 1e6;
    if (length > 0) steps.set(name, (steps.get(name) ?? new Set()).add(length));
  }
  return steps;
}

/** The longest run of ascending ratios that lie within one bin. */
function mostAgreed(ratios: readonly number[]): readonly number[] {
  let best: readonly number[] = [];
  let first = 0;
  for (let end = 1; end <= ratios.length; end++) {
    const highest = ratios[end - 1] ?? 0;
    while ((ratios[first] ?? highest) < highest * 2 ** -BIN_OCTAVES) first++;
    if (end - first > best.length) best = ratios.slice(first, end);
  }
  return best;
}
