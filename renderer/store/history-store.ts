import type { Exercise } from "../../core/exercise/exercise.ts";
import type { PracticeDay } from "../../core/progress/practice-day.ts";
import type { TuneTry } from "../../core/progress/repertoire/repertoire-status.ts";
import type { Attempt } from "../../core/score/attempt.ts";
import type { HistoryEntry, HistoryLine, NewEntry, StoredEntry } from "./history-entry.ts";

export {
  type HistoryEntry,
  type HistoryLine,
  type KeptTake,
  lineOf,
  type NewEntry,
  type StoredEntry,
  type StoredTake,
} from "./history-entry.ts";

/** What attempts must have; what is absent asks for nothing. */
export interface AttemptFilter {
  /** Letters of the title, of a drill or a tune, in any case. */
  readonly title?: string;
  /** "G harp". */
  readonly harp?: string;
  readonly position?: number;
  /** One that the exercise asks for: "plain", "bend". */
  readonly technique?: string;
  readonly tuneId?: string;
  /** Days of practice, both included. */
  readonly from?: PracticeDay;
  readonly to?: PracticeDay;
  /** Only those with a star. */
  readonly starred?: true;
}

/** A line's place in the list, newest first: by day, then by the clock, then by id. */
export type Place = Pick<HistoryLine, "day" | "atEpochMs" | "id">;

export interface PageQuery {
  readonly filter: AttemptFilter;
  /** The last line of the page before; null for the first page. */
  readonly before: Place | null;
  /** Most lines, at least 1. */
  readonly limit: number;
}

/** What can be chosen in a filter: what there are attempts of. */
export interface Facets {
  /** "G harp", in the order of the alphabet. */
  readonly harps: readonly string[];
  readonly positions: readonly number[];
  readonly techniques: readonly string[];
  readonly tunes: readonly { readonly tuneId: string; readonly title: string }[];
  /** Attempts in all, and those that were made up for the demonstration. */
  readonly attempts: number;
  readonly demo: number;
}

/** For work that may take long. */
export interface LongWork {
  /** Told the share done, 0..1. */
  readonly onProgress?: (share: number) => void;
  /** Ends the work: the promise then rejects with an AbortError; what was done so far stays whole. */
  readonly signal?: AbortSignal;
}

/** What was deleted, whole, so that it can be brought back. */
export interface Removed {
  readonly entries: readonly StoredEntry[];
}

export interface SaveHow {
  /** Of the running take it was, which goes in the same transaction. */
  readonly running?: string;
  /** Its own, where it has one already; a new one otherwise. */
  readonly id?: string;
}

/**
 * Where attempts are kept. Every verb rejects with a StoreTrouble when it cannot do its work; reading that a signal gives up stops
 * in the middle and rejects with an AbortError.
 */
export interface HistoryStore {
  /**
   * Keeps an attempt, its take and what follows from it, all or nothing; resolves once they are on disk.
   */
  save(entry: NewEntry, how?: SaveHow): Promise<string>;
  /** All lines, newest first. To be read by nothing that has to be quick with a large history. */
  list(): Promise<readonly HistoryLine[]>;
  /** Newest first; fewer than the limit only where there are no more. */
  page(query: PageQuery, signal?: AbortSignal): Promise<readonly HistoryLine[]>;
  count(filter: AttemptFilter, signal?: AbortSignal): Promise<number>;
  facets(): Promise<Facets>;
  /** The newest lines. */
  recent(limit: number): Promise<readonly HistoryLine[]>;
  /** Attempts at a tune, oldest first; none that cannot be read as one at a rung. */
  triesAt(tuneId: string): Promise<readonly TuneTry[]>;
  /** The same of all tunes, by tune. */
  triesAtAll(): Promise<ReadonlyMap<string, readonly TuneTry[]>>;
  /** null if there is no such attempt. */
  open(id: string): Promise<HistoryEntry | null>;
  /** Puts other marks in place of those of an attempt; take, time and star stay. False if there is no such attempt. */
  replaceMarks(id: string, exercise: Exercise, attempt: Attempt): Promise<boolean>;
  /** The take of a starred attempt is never dropped for space. False if there is no such attempt. */
  star(id: string, on: boolean): Promise<boolean>;
  /** Deletes the take of an attempt for good; its marks stay. False if there is no such attempt, or no take of it. */
  dropTake(id: string): Promise<boolean>;
  /** Deletes those that are there, and gives back what `restore` needs. */
  remove(ids: readonly string[]): Promise<Removed>;
  restore(removed: Removed): Promise<void>;
}

/** Room that takes need. */
export interface Space {
  readonly takes: number;
  readonly takeBytes: number;
  /** Attempts whose take is no longer kept, or never was. */
  readonly withoutTake: number;
  /** What the browser says of all it keeps for this program; null where it says nothing. */
  readonly usedBytes: number | null;
  readonly quotaBytes: number | null;
}

/** What `verify` found. */
export interface Verified {
  readonly attempts: number;
  /** Attempts that are damaged, or that a newer version marked: they are kept, and stand neither in the list nor in any sum. */
  readonly unreadable: number;
  /** Each difference in words, a hundred at most. */
  readonly differences: readonly string[];
  /** How many there are. */
  readonly different: number;
  readonly repaired: boolean;
}

/** Looking after the history. */
export interface HistoryUpkeep {
  space(): Promise<Space>;
  /** Drops the oldest takes without a star until the rest fits the limit in the settings; how many went. */
  fitTakes(): Promise<number>;
  /** Deletes every take for good, those with a star too; marks stay. Stopped, the takes left stay. How many went. */
  dropAllTakes(work?: LongWork): Promise<number>;
  /** Packs the takes that an earlier version stored as they were; how many there were. */
  packTakes(work?: LongWork): Promise<number>;
  /** Deletes what was made up for the demonstration, day by day; how many attempts went. Stopped, the days left go another time. */
  removeDemo(work?: LongWork): Promise<number>;
  /** Whether the rules by which attempts are counted changed since they were: `verify` with repair counts them anew. */
  needsRecount(): Promise<boolean>;
  /** Counts everything anew from the attempts, day by day, and compares; with `repair` it puts right what differs. */
  verify(work?: LongWork & { readonly repair?: boolean }): Promise<Verified>;
}

/** Keeps attempts as they come, any number of them; those whose id is there already are left alone. */
export interface AttemptKeeper {
  /** Resolves once there is room for more: not all of them are kept by then. */
  add(entries: readonly StoredEntry[]): Promise<void>;
  /** Keeps the rest. @returns how many were kept, the rest was there */
  finish(): Promise<number>;
}

/** The whole history in and out: archives and backups. */
export interface HistoryArchive {
  /** Of all attempts, oldest first. */
  ids(): Promise<readonly string[]>;
  /** Attempts as they are stored, takes packed, in the order of the ids; those that are there. */
  read(ids: readonly string[]): Promise<readonly StoredEntry[]>;
  /**
   * Keeps many at once, those whose id is there already left alone; each is kept whole with all that follows from it.
   *
   * @returns how many were kept, the rest was there
   */
  keepMany(entries: readonly StoredEntry[], work?: LongWork): Promise<number>;
  /** The same for more than are in memory at once. */
  keeper(): AttemptKeeper;
}
