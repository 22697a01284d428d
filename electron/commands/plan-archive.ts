import type { Exercise } from "../../core/exercise/exercise.ts";
import { USUAL_RULE } from "../../core/exercise/tune-ladder.ts";
import type { LaidStudy, TuneRules } from "../../core/exercise/tune-study.ts";
import type { Harp } from "../../core/instrument/harp.ts";
import { FIRST_WEIGHTS, readWeights } from "../../core/path/weights.ts";
import { harpKeyOf } from "../../core/progress/counts/likeness.ts";
import { factOf, type SessionFact } from "../../core/progress/counts/session-fact.ts";
import type { PracticeDay } from "../../core/progress/practice-day.ts";
import type { TuneStatus, TuneTry } from "../../core/progress/repertoire/repertoire-status.ts";
import { tuneTry } from "../../core/progress/repertoire/tune-try.ts";
import type { Wish } from "../../core/progress/revisit/revisit.ts";
import { tempoSign } from "../../core/tune/tempo.ts";
import type { TuneLine } from "../../core/tune/tune-list.ts";
import { milliseconds } from "../../core/units.ts";
import { readArchiveFile } from "./archive-file.ts";
import { keptAttempts } from "./kept-attempts.ts";

/** What the player set for a tune. */
export interface KeptStudy extends LaidStudy {
  readonly heard?: readonly string[];
  readonly voice?: string;
  readonly status?: TuneStatus;
}

/** A tune of the player's own. */
export type KeptTune = TuneLine & { readonly abc: string };

/** What is kept beside the attempts. */
export interface Kept {
  readonly wishes: readonly Wish[];
  readonly harps: readonly Harp[];
  readonly tunes: ReadonlyMap<string, KeptTune>;
  readonly studies: ReadonlyMap<string, KeptStudy>;
  readonly rules: TuneRules;
}

/** What was practised up to a day. */
export interface Practised {
  readonly facts: readonly SessionFact[];
  /** Of the attempt that came last; null without any. */
  readonly latest: Exercise | null;
  readonly latestEpochMs: number;
  /** By id of the tune, oldest first. */
  readonly tries: ReadonlyMap<string, readonly TuneTry[]>;
  /** By the key of the harp, as it was played last. */
  readonly harps: ReadonlyMap<string, Harp>;
}

/** @throws CommandError where the archive is refused */
export async function keptIn(path: string): Promise<Kept> {
  const wishes: Wish[] = [];
  const harps: Harp[] = [];
  const tunes = new Map<string, KeptTune>();
  const studies = new Map<string, KeptStudy>();
  let rules = rulesOf({});
  for await (const event of readArchiveFile(path)) {
    if (event.kind !== "record") continue;
    const { kind, id, value } = event.record;
    // What is read below stands before the attempts.
    if (kind === "attempt") break;
    if (kind === "wish") wishes.push({ ...(value as Wish), item: id });
    if (kind === "harp") harps.push((value as { readonly harp: Harp }).harp);
    if (kind === "tune") tunes.set(id, value as KeptTune);
    if (kind === "study") studies.set(id, value as KeptStudy);
    if (kind === "settings") rules = rulesOf(value as Readonly<Record<string, unknown>>);
  }
  return { wishes, harps, tunes, studies, rules };
}

/** As the window goes by them: what is damaged has its first value. */
function rulesOf({ ladder, pathWeights }: Readonly<Record<string, unknown>>): TuneRules {
  const { rightShare, spreadMs, inARow } = (ladder ?? {}) as Readonly<Record<string, unknown>>;
  const isWhole =
    isWithin(rightShare, 0.5, 1) && isWithin(spreadMs, 5, 200) && isWithin(inARow, 1, 10) && inARow % 1 === 0;
  const weights = readWeights(pathWeights ?? {});
  return {
    ladder: isWhole ? { ...USUAL_RULE, rightShare, inARow, spreadMs: milliseconds(spreadMs) } : USUAL_RULE,
    weights: weights.kind === "weights" ? weights.weights : FIRST_WEIGHTS,
  };
}

const isWithin = (value: unknown, low: number, high: number): value is number =>
  typeof value === "number" && value >= low && value <= high;

/** @throws CommandError where the archive is refused, or some of its attempts cannot be read */
export async function practisedIn(path: string, day: PracticeDay): Promise<Practised> {
  const facts: SessionFact[] = [];
  const tries = new Map<string, TuneTry[]>();
  const harps = new Map<string, { readonly harp: Harp; readonly atEpochMs: number }>();
  let latest: { readonly exercise: Exercise; readonly atEpochMs: number } | null = null;
  for await (const kept of keptAttempts(path)) {
    const fact = factOf(kept);
    if (fact.day > day) continue;
    facts.push(fact);
    const { exercise, atEpochMs, attempt } = kept;
    if (latest === null || atEpochMs > latest.atEpochMs) latest = kept;
    const key = harpKeyOf(exercise.harp);
    if (atEpochMs >= (harps.get(key)?.atEpochMs ?? 0)) harps.set(key, { harp: exercise.harp, atEpochMs });
    const { tuneId, rung, title } = fact.what;
    const played = { summary: attempt.summary, tempo: tempoSign(exercise.tempo), title, atEpochMs };
    const one = rung === undefined ? null : tuneTry({ ...played, rung });
    if (tuneId === undefined || one === null) continue;
    const own = tries.get(tuneId);
    if (own === undefined) tries.set(tuneId, [one]);
    else own.push(one);
  }
  for (const own of tries.values()) own.sort((one, other) => one.atEpochMs - other.atEpochMs);
  return {
    facts,
    latest: latest?.exercise ?? null,
    latestEpochMs: latest?.atEpochMs ?? 0,
    tries,
    harps: new Map([...harps].map(([key, { harp }]) => [key, harp])),
  };
}
