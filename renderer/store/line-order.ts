import type { HistoryLine } from "./history-entry.ts";
import type { AttemptFilter, Facets, Place } from "./history-store.ts";

/** Newest first: by day, by the clock, by id. */
export const newestFirst = (one: Place, other: Place): number =>
  compared(other.day, one.day) || other.atEpochMs - one.atEpochMs || compared(other.id, one.id);

const compared = (one: string, other: string) => (one < other ? -1 : one > other ? 1 : 0);

/** What a filter asks of what was practised, whenever that was. */
type Subject = Pick<HistoryLine, "title" | "harpName" | "position" | "techniques" | "tuneId">;

export function subjectFits(filter: AttemptFilter, subject: Subject): boolean {
  const { title = "", harp, position, technique, tuneId } = filter;
  return (
    subject.title.toLowerCase().includes(title.trim().toLowerCase()) &&
    (harp === undefined || subject.harpName === harp) &&
    (position === undefined || subject.position === position) &&
    (technique === undefined || subject.techniques.includes(technique)) &&
    (tuneId === undefined || subject.tuneId === tuneId)
  );
}

export const lineFits = (filter: AttemptFilter, line: HistoryLine): boolean =>
  subjectFits(filter, line) &&
  (filter.from === undefined || line.day >= filter.from) &&
  (filter.to === undefined || line.day <= filter.to) &&
  (filter.starred === undefined || line.starred);

type Counted = Subject & { readonly attempts: number; readonly demo: boolean };

/** What there are attempts of. */
export function facetsOf(subjects: readonly Counted[]): Facets {
  const tunes = new Map(
    subjects.flatMap(({ tuneId, title }) => (tuneId === undefined ? [] : [[tuneId, tuneOf(title)] as const])),
  );
  const count = (of: readonly Counted[]) => of.reduce((sum, { attempts }) => sum + attempts, 0);
  return {
    harps: [...new Set(subjects.map(({ harpName }) => harpName))].sort(),
    positions: [...new Set(subjects.map(({ position }) => position))].sort((a, b) => a - b),
    techniques: [...new Set(subjects.flatMap(({ techniques }) => techniques))].sort(),
    tunes: [...tunes]
      .map(([tuneId, title]) => ({ tuneId, title }))
      .sort((one, other) => compared(one.title, other.title)),
    attempts: count(subjects),
    demo: count(subjects.filter(({ demo }) => demo)),
  };
}

/** A stretch of a tune is called after the tune, then the stretch: see `core/exercise/tune-exercise.ts`. */
const tuneOf = (title: string) => title.slice(0, title.lastIndexOf(", ")) || title;
