import type { LadderRule } from "../../core/exercise/tune-ladder.ts";
import { danceTempoOfLine } from "../../core/exercise/tune-study.ts";
import {
  type TuneRecord,
  type TuneStanding,
  type TuneStatus,
  type TuneTry,
  tuneStanding,
} from "../../core/progress/repertoire/repertoire-status.ts";
import type { ListedTune, TuneStudy } from "../store/tune-store.ts";

/** What is known of all tunes without opening one. */
export interface Repertoire {
  readonly studies: ReadonlyMap<string, TuneStudy>;
  /** Oldest first, by tune. */
  readonly tries: ReadonlyMap<string, readonly TuneTry[]>;
  readonly rule: LadderRule;
  readonly nowEpochMs: number;
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
    dance: danceTempoOfLine(tune, study),
    own: study?.status ?? null,
  };
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
