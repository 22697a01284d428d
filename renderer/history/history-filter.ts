import type { HistoryLine } from "../store/history-store.ts";

/** How the notes of each attempt are sounded, by its id; null while that is not known. */
export type Techniques = ReadonlyMap<string, readonly string[]> | null;

/** What attempts must have; an empty text asks for nothing. */
export interface HistoryFilter {
  /** Letters of the title, of a drill or a tune. */
  readonly title: string;
  readonly harp: string;
  readonly position: string;
  readonly technique: string;
  /** Days of the calendar, "2026-03-29", both included. */
  readonly from: string;
  readonly to: string;
}

export const EVERYTHING: HistoryFilter = {
  title: "",
  harp: "",
  position: "",
  technique: "",
  from: "",
  to: "",
};

/** Harp and position of a line, which names both: "G harp, 2nd position". */
export function harpAndPosition({ harp }: Pick<HistoryLine, "harp">): {
  readonly harp: string;
  readonly position: string;
} {
  const at = harp.lastIndexOf(", ");
  return at < 0 ? { harp, position: "" } : { harp: harp.slice(0, at), position: harp.slice(at + 2) };
}

/** The attempts a filter lets through, in their order. */
export function filtered(
  lines: readonly HistoryLine[],
  filter: HistoryFilter,
  techniques: Techniques,
): readonly HistoryLine[] {
  const title = filter.title.trim().toLowerCase();
  const from = filter.from === "" ? Number.NEGATIVE_INFINITY : new Date(`${filter.from}T00:00`).getTime();
  const until = filter.to === "" ? Number.POSITIVE_INFINITY : new Date(`${filter.to}T24:00`).getTime();
  return lines.filter((line) => {
    const { harp, position } = harpAndPosition(line);
    return (
      line.title.toLowerCase().includes(title) &&
      (filter.harp === "" || filter.harp === harp) &&
      (filter.position === "" || filter.position === position) &&
      (filter.technique === "" || (techniques?.get(line.id)?.includes(filter.technique) ?? false)) &&
      line.atEpochMs >= from &&
      line.atEpochMs < until
    );
  });
}
