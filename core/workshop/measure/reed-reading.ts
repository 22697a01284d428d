import type { Breath } from "../../instrument/layout.ts";
import type { HeardNote } from "../../listen/listening.ts";
import type { Cents, Dbfs, Midi, Seconds } from "../../units.ts";

/** Where a reed sits. */
export interface ReedPlace {
  /** Counted from 1. */
  readonly hole: number;
  readonly breath: Breath;
}

export const samePlace = (one: ReedPlace, other: ReedPlace): boolean =>
  one.hole === other.hole && one.breath === other.breath;

/** One steady note of one reed. */
export interface ReedReading {
  /** Pitch of its settled part, fractional, A4 = 440 Hz. */
  readonly midi: Midi;
  /** How far the pitch wanders within the note: interquartile range of its settled part. */
  readonly wanderCents: Cents;
  readonly settledSeconds: Seconds;
  readonly levelDbfs: Dbfs;
}

/** Why a note says nothing of a reed's tuning. */
export type Unfit = "no steady pitch" | "too short" | "too quiet" | "unsteady" | "two reeds";

/** So much of a note has to be settled. The attack of low reeds is slow (Cottingham); shorter notes are not asked for. */
const LEAST_SETTLED_SECONDS = 0.3;
/** A relaxed steady breath wanders less; common practice, no source. */
const MOST_WANDER_CENTS = 6;
/** A second reed softer than this does not move the first one's reading by a tenth of a cent. */
const SECOND_REED_DB = -22;
const QUIETEST_DBFS = -60;

/** What a heard note tells of the reed that sounded it, or why it tells nothing. */
export function readingOf(note: HeardNote): ReedReading | Unfit {
  const { pitchMidi, spreadCents, settledSeconds, levelDbfs, leak, unreadable } = note;
  if (unreadable === "too short" || unreadable === "too quiet") return unreadable;
  if (pitchMidi === null || spreadCents === null) return "no steady pitch";
  if (levelDbfs < QUIETEST_DBFS) return "too quiet";
  if (leak !== null && leak.levelDb > SECOND_REED_DB) return "two reeds";
  if (settledSeconds < LEAST_SETTLED_SECONDS) return "too short";
  if (spreadCents > MOST_WANDER_CENTS) return "unsteady";
  return { midi: pitchMidi, wanderCents: spreadCents, settledSeconds, levelDbfs };
}

export const isReading = (read: ReedReading | Unfit): read is ReedReading => typeof read !== "string";
