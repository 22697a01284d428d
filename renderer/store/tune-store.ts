import type { LaidStudy } from "../../core/exercise/tune-study.ts";
import type { TuneStatus } from "../../core/progress/repertoire/repertoire-status.ts";
import type { TuneLine } from "../../core/tune/tune-list.ts";

/** A tune in the list. */
export interface ListedTune extends TuneLine {
  /** Made from the tune's text: the same tune brought in again takes the place of the first. */
  readonly id: string;
  /** File it came from, "written here", or the book it comes along in. */
  readonly from: string;
}

/** A tune as it is kept: its line and its text in ABC, whatever it was read from. */
export interface KeptTune extends ListedTune {
  readonly abc: string;
}

/** What the player has set for one tune. Everything may be absent: then the program's own choice holds. */
export interface TuneStudy extends LaidStudy {
  /** Of the tune. */
  readonly id: string;
  /** Listening rungs that were heard to the end. */
  readonly heard?: readonly string[];
  /** Long to short of notes that share a beat. */
  readonly swing?: number;
  /** Voice of the tune that is learned, where it has several. */
  readonly voice?: string;
  /** Where the player says the tune stands, above what the attempts say. */
  readonly status?: TuneStatus;
}

/** Where the player's tunes are kept. Every verb rejects with a StoreTrouble when it cannot do its work. */
export interface TuneStore {
  /** By title. */
  list(): Promise<readonly ListedTune[]>;
  /** Null if there is no such tune. */
  open(id: string): Promise<KeptTune | null>;
  /** Texts of tunes, those that are there. */
  texts(ids: readonly string[]): Promise<readonly string[]>;
  /** Keeps tunes, in place of those with the same ids; all or none; resolves once they are on disk. */
  keep(tunes: readonly KeptTune[]): Promise<void>;
  /** Deletes tunes, and gives back what `keep` needs to bring them back. */
  remove(ids: readonly string[]): Promise<readonly KeptTune[]>;
  study(id: string): Promise<TuneStudy | null>;
  /** All there are, in no order. */
  studies(): Promise<readonly TuneStudy[]>;
  keepStudy(study: TuneStudy): Promise<void>;
}

const inOrder = new Intl.Collator(undefined, { numeric: true, sensitivity: "base" });

export function byTitle<T extends ListedTune>(tunes: readonly T[]): readonly T[] {
  return [...tunes].sort((a, b) => inOrder.compare(a.title, b.title) || (a.id < b.id ? -1 : 1));
}
