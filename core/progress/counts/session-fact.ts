import type { Exercise } from "../../exercise/exercise.ts";
import { harpName } from "../../instrument/harp.ts";
import type { Attempt } from "../../score/attempt.ts";
import { type Bpm, bpm, type Seconds } from "../../units.ts";
import { type PracticeDay, practiceDay } from "../practice-day.ts";
import { groupOf, type Like, likeOf } from "./likeness.ts";
import { type Measured, measuredOf } from "./measured.ts";
import { pairsOf, type ReedTable, reedsOf } from "./reed-counts.ts";

/** An attempt as it was kept. */
export interface KeptAttempt {
  readonly id: string;
  readonly atEpochMs: number;
  /** Where the player was: IANA name of the time zone. */
  readonly zone: string;
  readonly exercise: Exercise;
  readonly attempt: Attempt;
  /** Whether it belongs to the made-up days of the demonstration; not where absent. */
  readonly demo?: boolean;
}

/** Grows whenever the fact of an attempt or what is added up from it changes: what was counted before is then counted anew. */
export const FACT_VERSION = 2;

/** What progress knows of an attempt; everything else follows from these by adding up. */
export interface SessionFact {
  readonly id: string;
  readonly atEpochMs: number;
  readonly day: PracticeDay;
  readonly item: string;
  readonly group: string;
  readonly like: Like;
  readonly what: What;
  readonly bpm: Bpm;
  /** From the beginning of the take to its end. */
  readonly seconds: Seconds;
  readonly measured: Measured;
  readonly reeds: ReedTable;
  readonly pairs: ReedTable;
}

/** What was practised, for words. */
export interface What {
  readonly title: string;
  readonly kind: Exercise["kind"];
  readonly position: number;
  /** "G harp". */
  readonly harp: string;
  /** Techniques the exercise asks for, each once: "plain", "bend". */
  readonly techniques: readonly string[];
  /** Made up, not played; absent otherwise. */
  readonly demo?: true;
  /** Present for a stretch of a tune the player keeps. */
  readonly tuneId?: string;
  readonly rung?: string;
}

/** The fact of an attempt. Pure: the same attempt gives the same fact. */
export function factOf({ id, atEpochMs, zone, exercise, attempt, demo }: KeptAttempt): SessionFact {
  const like = demo === true ? madeUp(likeOf(exercise, attempt)) : likeOf(exercise, attempt);
  return {
    id,
    atEpochMs,
    day: practiceDay(atEpochMs, zone),
    item: like.item,
    group: groupOf(like),
    like,
    what: { ...whatOf(exercise), ...(demo === true ? { demo } : {}) },
    bpm: bpm(exercise.tempo.bpm),
    seconds: attempt.take.durationSeconds,
    measured: measuredOf(attempt),
    reeds: reedsOf(exercise, attempt),
    pairs: pairsOf(exercise, attempt),
  };
}

/** What was made up is never compared with what was played. */
const madeUp = (like: Like): Like => ({ ...like, item: `${MADE_UP}${like.item}` });

const MADE_UP = "demonstration ";

/** The item that something made up would be if it were played. */
export const itemIfPlayed = (item: string): string =>
  item.startsWith(MADE_UP) ? item.slice(MADE_UP.length) : item;

function whatOf({ title, kind, position, harp, notes, parameters }: Exercise): What {
  const { tuneId, rung } = parameters;
  return {
    title,
    kind,
    position,
    harp: harpName(harp),
    techniques: [...new Set(notes.map(({ action }) => action.technique))].sort(),
    ...(typeof tuneId === "string" ? { tuneId } : {}),
    ...(typeof rung === "string" ? { rung } : {}),
  };
}

type Placed = Pick<SessionFact, "atEpochMs" | "id">;

/** Which came first by the clock; at one instant by id, so that any order they are read in gives the same. */
export const earlier = (one: Placed, other: Placed): number =>
  one.atEpochMs - other.atEpochMs || (one.id < other.id ? -1 : one.id > other.id ? 1 : 0);
