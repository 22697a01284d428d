import { beatOf, tempoIn } from "../../core/exercise/tune-exercise.ts";
import type { LadderRule } from "../../core/exercise/tune-ladder.ts";
import {
  type TuneRecord,
  type TuneStanding,
  type TuneStatus,
  type TuneTry,
  tuneStanding,
} from "../../core/progress/repertoire-status.ts";
import { readTempoSign, type Tempo } from "../../core/tune/tempo.ts";
import type { Metre } from "../../core/tune/tune.ts";
import { bpm } from "../../core/units.ts";
import type { HistoryLine } from "../store/history-store.ts";
import type { ListedTune, TuneStudy } from "../store/tune-store.ts";

/** What is known of all tunes without opening one. */
export interface Repertoire {
  readonly studies: ReadonlyMap<string, TuneStudy>;
  /** Oldest first, by tune. */
  readonly tries: ReadonlyMap<string, readonly TuneTry[]>;
  readonly rule: LadderRule;
  readonly nowEpochMs: number;
}

/** The attempt of a line of the history; null for one at no tune, or at a rung that cannot be read. */
export function tryOf({ rung, summary, tempo, title, atEpochMs }: HistoryLine): TuneTry | null {
  const played = readTempoSign(tempo);
  if (rung === undefined || played === null) return null;
  const { notes, timing } = summary;
  const counted = notes.expected - notes.notMeasured;
  return {
    rung,
    rightShare: counted === 0 ? 0 : notes.hit / counted,
    spreadMs: timing.spreadMs,
    tempo: played,
    // "The tune's title, A 1–4": what follows the last comma is the stretch.
    words: title.slice(title.lastIndexOf(", ") + 2),
    atEpochMs,
  };
}

/** @param lines in any order */
export function triesByTune(lines: readonly HistoryLine[]): ReadonlyMap<string, readonly TuneTry[]> {
  const tries = new Map<string, TuneTry[]>();
  for (const line of lines) {
    const one = tryOf(line);
    if (line.tuneId === undefined || one === null) continue;
    const own = tries.get(line.tuneId);
    if (own === undefined) tries.set(line.tuneId, [one]);
    else own.push(one);
  }
  for (const own of tries.values()) own.sort((a, b) => a.atEpochMs - b.atEpochMs);
  return tries;
}

/** Where a tune of the list stands. */
export function standingOf(tune: ListedTune, repertoire: Repertoire): TuneStanding {
  return tuneStanding(recordOf(tune, repertoire), repertoire.rule, repertoire.nowEpochMs);
}

function recordOf(tune: ListedTune, { studies, tries }: Repertoire): TuneRecord {
  const study = studies.get(tune.id);
  return {
    tries: tries.get(tune.id) ?? [],
    heard: study?.heard?.length ?? 0,
    dance: listedDanceTempo(tune, study),
    own: study?.status ?? null,
  };
}

/** The tempo its dance is wanted at, in the note value the metre is felt in; null where the list does not know it. */
function listedDanceTempo({ tempo, metre }: ListedTune, study: TuneStudy | undefined): Tempo | null {
  if (tempo === undefined) return null;
  const counted = tempoIn(tempo, beatOf(metreOf(metre), tempo));
  return { ...counted, bpm: bpm(study?.danceBpm ?? Math.round(counted.bpm)) };
}

/** Reads "6/8"; null for a free metre. */
function metreOf(text: string): Metre | null {
  const [beats, unit] = text.split("/").map(Number);
  return beats === undefined || unit === undefined || !(beats > 0 && unit > 0) ? null : { beats, unit };
}

export type StatusFilter = TuneStatus | "any";
export const TUNE_ORDERS = ["title", "state", "last played"] as const;
export type TuneOrder = (typeof TUNE_ORDERS)[number];

/** The order of states: what is being learned stands first. */
const STATE_ORDER: Readonly<Record<TuneStatus, number>> = { learning: 0, "at tempo": 1, resting: 2, new: 3 };

/** The tunes of a state, in an order; by title is the order they come in. */
export function inRepertoire(
  tunes: readonly ListedTune[],
  standing: (tune: ListedTune) => TuneStanding,
  filter: StatusFilter,
  order: TuneOrder,
): readonly ListedTune[] {
  const kept = filter === "any" ? tunes : tunes.filter((tune) => standing(tune).status === filter);
  if (order === "title") return kept;
  const keyed = kept.map((tune) => ({ tune, its: standing(tune) }));
  keyed.sort((a, b) =>
    order === "state"
      ? STATE_ORDER[a.its.status] - STATE_ORDER[b.its.status]
      : (b.its.lastEpochMs ?? 0) - (a.its.lastEpochMs ?? 0),
  );
  return keyed.map(({ tune }) => tune);
}

/** "3 November"; with the year where it is another one. */
export function dayInWords(epochMs: number, nowEpochMs: number): string {
  const [day, now] = [new Date(epochMs), new Date(nowEpochMs)];
  const year = day.getFullYear() === now.getFullYear() ? {} : { year: "numeric" as const };
  return new Intl.DateTimeFormat("en-GB", { day: "numeric", month: "long", ...year }).format(day);
}
