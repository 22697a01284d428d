import type { HistoryLine } from "../store/history-store.ts";

/** How many exercises one may go on with. */
const MOST = 5;

/** What was practised last, each exercise on each harp once, the latest first. */
export function toGoOnWith(lines: readonly HistoryLine[]): readonly HistoryLine[] {
  const known = new Set<string>();
  return lines
    .filter(({ title, harp }) => {
      const what = `${title} on ${harp}`;
      if (known.has(what)) return false;
      known.add(what);
      return true;
    })
    .slice(0, MOST);
}

/** "13 of 15 right, 12 ms apart": what the last try was like, without a word of praise or blame. */
export function lastTime({ summary: { notes, intonation, timing } }: HistoryLine): string {
  const counted = notes.expected - notes.notMeasured;
  return [
    `${notes.hit} of ${counted} right`,
    intonation.spreadCents === null ? null : `± ${intonation.spreadCents.toFixed(0)} cents`,
    timing.spreadMs === null ? null : `± ${timing.spreadMs.toFixed(0)} ms`,
  ]
    .filter((part) => part !== null)
    .join(", ");
}
