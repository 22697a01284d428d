import {
  type LadderRule,
  meets,
  type RungId,
  type RungKind,
  type RungResult,
  readRungId,
  rungTempo,
} from "../../exercise/tune-ladder.ts";
import { semibreves, type Tempo, tempoSign } from "../../tune/tempo.ts";

/** Where a tune stands in the repertoire. */
export const TUNE_STATUSES = ["new", "learning", "at tempo", "resting"] as const;
export type TuneStatus = (typeof TUNE_STATUSES)[number];

/** A tune not played for so many days rests. Common practice, no source: a season without the dance it was learned for. */
export const RESTS_AFTER_DAYS = 60;
const DAY_MS = 86_400_000;

/** One attempt at a stretch of a tune, as the small row of the history has it. */
export interface TuneTry extends RungResult {
  readonly atEpochMs: number;
  /** The tempo it was played at. */
  readonly tempo: Tempo;
  /** "A 1–4". */
  readonly words: string;
}

/** What is known of a tune without opening it. */
export interface TuneRecord {
  /** Oldest first. */
  readonly tries: readonly TuneTry[];
  /** Listening rungs that were heard to the end. */
  readonly heard: number;
  /** The tempo the dance is wanted at; null where it is not known, and then any tempo at the last rung counts. */
  readonly dance: Tempo | null;
  /** The player's own word; null to go by the attempts. */
  readonly own: TuneStatus | null;
}

/** A rung that was climbed: the attempts in a row that met the rule, the last of them. */
export interface Climb {
  /** Its id. */
  readonly rung: string;
  readonly kind: RungKind;
  /** "whole tune". */
  readonly words: string;
  /** The slowest of the row. */
  readonly tempo: Tempo;
  readonly atEpochMs: number;
  readonly inARow: number;
}

export interface TuneStanding {
  readonly status: TuneStatus;
  /** Whether that is the player's own word. */
  readonly byHand: boolean;
  /** What the attempts alone say. */
  readonly derived: TuneStatus;
  /** The furthest rung climbed; null without one. */
  readonly reached: Climb | null;
  readonly tries: number;
  readonly heard: number;
  /** When it was played last; null for never. */
  readonly lastEpochMs: number | null;
}

/**
 * Where a tune stands: new while never played nor listened to, at tempo once the last rung of its ladder (the whole tune at
 * dance tempo) was climbed, resting when not played for `RESTS_AFTER_DAYS`, learning otherwise. The player's own word stands above.
 *
 * @param nowEpochMs milliseconds since 1970-01-01T00:00Z
 */
export function tuneStanding(record: TuneRecord, rule: LadderRule, nowEpochMs: number): TuneStanding {
  const { tries, heard, dance, own } = record;
  const climbs = climbsOf(tries, dance, rule);
  const reached = climbs.reduce<Ranked | null>(
    (best, next) => (best === null || further(next, best) ? next : best),
    null,
  );
  const lastEpochMs = tries.at(-1)?.atEpochMs ?? null;
  const derived = derivedStatus(record, reached, lastEpochMs, nowEpochMs);
  return {
    status: own ?? derived,
    byHand: own !== null,
    derived,
    reached: reached?.climb ?? null,
    tries: tries.length,
    heard,
    lastEpochMs,
  };
}

function derivedStatus(
  { tries, heard }: TuneRecord,
  reached: Ranked | null,
  lastEpochMs: number | null,
  nowEpochMs: number,
): TuneStatus {
  if (tries.length === 0) return heard === 0 ? "new" : "learning";
  if (lastEpochMs !== null && nowEpochMs - lastEpochMs > RESTS_AFTER_DAYS * DAY_MS) return "resting";
  return reached !== null && isLast(reached.rung) ? "at tempo" : "learning";
}

const isLast = ({ kind, tempoShare }: RungId) => kind === "whole tune" && tempoShare >= 1;

interface Ranked {
  readonly rung: RungId;
  readonly climb: Climb;
}

/** Each rung's latest row of attempts that met the rule and was long enough. */
function climbsOf(tries: readonly TuneTry[], dance: Tempo | null, rule: LadderRule): readonly Ranked[] {
  return [...byRung(tries)].flatMap(([id, own]) => {
    const rung = readRungId(id);
    const climb = rung === null ? null : climbOf(rung, own, dance, rule);
    return rung === null || climb === null ? [] : [{ rung, climb }];
  });
}

function byRung(tries: readonly TuneTry[]): ReadonlyMap<string, readonly TuneTry[]> {
  const rungs = new Map<string, TuneTry[]>();
  for (const one of tries) {
    const own = rungs.get(one.rung);
    if (own === undefined) rungs.set(one.rung, [one]);
    else own.push(one);
  }
  return rungs;
}

function climbOf(
  rung: RungId,
  tries: readonly TuneTry[],
  dance: Tempo | null,
  rule: LadderRule,
): Climb | null {
  const wanted = dance === null ? null : { ...dance, bpm: rungTempo(dance.bpm, rung) };
  let inARow = 0;
  let latest: { readonly place: number; readonly one: TuneTry; readonly inARow: number } | null = null;
  for (const [place, one] of tries.entries()) {
    inARow = meets(one, rule, wanted) ? inARow + 1 : 0;
    if (inARow >= rule.inARow) latest = { place, one, inARow };
  }
  if (latest === null) return null;
  const last = tries.slice(latest.place + 1 - rule.inARow, latest.place + 1);
  const tempo = last.map((each) => each.tempo).reduce((a, b) => (speed(b) < speed(a) ? b : a));
  const { rung: id, words, atEpochMs } = latest.one;
  return { rung: id, kind: rung.kind, words, tempo, atEpochMs, inARow: latest.inARow };
}

const KIND_ORDER: readonly RungKind[] = ["listen", "phrase", "phrases joined", "strain", "whole tune"];

/** More of the tune is further, then a faster tempo, then the later day. */
function further(one: Ranked, other: Ranked): boolean {
  const kinds = KIND_ORDER.indexOf(one.rung.kind) - KIND_ORDER.indexOf(other.rung.kind);
  if (kinds !== 0) return kinds > 0;
  const faster =
    one.rung.tempoShare - other.rung.tempoShare || speed(one.climb.tempo) - speed(other.climb.tempo);
  return faster !== 0 ? faster > 0 : one.climb.atEpochMs > other.climb.atEpochMs;
}

const speed = ({ bpm, noteValue }: Tempo): number => bpm * semibreves(noteValue);

/**
 * Why a tune stands where it does: "whole tune at minim = 112 on 3 November, 2 in a row".
 *
 * @param dayInWords names the day of an instant: "3 November"
 */
export function standingInWords(standing: TuneStanding, dayInWords: (epochMs: number) => string): string {
  const { byHand, derived, status } = standing;
  const said = factsInWords(standing, dayInWords);
  if (!byHand) return said;
  return derived === status ? `set by you; ${said}` : `set by you; by your attempts ${derived}: ${said}`;
}

function factsInWords(
  { derived, reached, tries, heard, lastEpochMs }: TuneStanding,
  dayInWords: (epochMs: number) => string,
): string {
  if (tries === 0 || lastEpochMs === null)
    return heard === 0 ? "not played yet" : "listened to, not played yet";
  const climbed =
    reached === null
      ? `${tries} ${tries === 1 ? "attempt" : "attempts"}, no rung climbed yet`
      : `${reached.words} at ${tempoSign(reached.tempo)} on ${dayInWords(reached.atEpochMs)}, ${reached.inARow} in a row`;
  return derived === "resting" ? `not played since ${dayInWords(lastEpochMs)}; ${climbed}` : climbed;
}
