import { seededRandom } from "../../exercise/seeded-random.ts";
import { type LadderRule, ladderState, type Rung } from "../../exercise/tune-ladder.ts";
import type { TuneSteps } from "../../exercise/tune-steps.ts";
import { dayNumber, type PracticeDay } from "../practice-day.ts";
import type { TuneStanding, TuneTry } from "../repertoire/repertoire-status.ts";
import type { ItemRow } from "../revisit/revisit.ts";
import type { PlanRung, PlanTune } from "./plan-shape.ts";

/** A tune there is, and where it stands: the list of tunes and the plan of a day both go by `tuneStanding`. */
export interface StandingTune {
  readonly tuneId: string;
  readonly title: string;
  readonly standing: TuneStanding;
}

/** A tune whose steps a plan has to know. */
export interface StepsAsk {
  readonly tuneId: string;
  /** Whether it is also asked how the tune lies on the player's harps. */
  readonly isFitted: boolean;
}

/** The steps of a tune, and what was done at it. */
export interface SteppedTune extends TuneSteps {
  /** Oldest first. */
  readonly tries: readonly TuneTry[];
  /** Ids of listening rungs heard to the end. */
  readonly heard: ReadonlySet<string>;
  readonly rule: LadderRule;
}

/** Opens tunes; those that cannot be read are not among the answers. */
export type StepsOf = (asks: readonly StepsAsk[]) => Promise<ReadonlyMap<string, SteppedTune>>;

/** So many tunes that are being learned are opened, the latest practised first. */
const MOST_OPENED = 3;
/** So many tunes that nobody began are looked at for one that suits the harps; common practice, no source. */
const MOST_TRIED = 4;

/**
 * The tunes as a plan needs them: those being learned with the rung that is next, those at tempo and those that rest, the latest
 * played first. Where fewer are being learned than are opened, one that nobody began is among them, if the player's harps have
 * all its notes; who has not practised yet begins with drills.
 *
 * @param items what was practised
 * @param seed settles which of the tunes nobody began is looked at
 */
export async function planTunes(
  tunes: readonly StandingTune[],
  items: readonly ItemRow[],
  seed: number,
  stepsOf: StepsOf,
): Promise<readonly PlanTune[]> {
  const days = lastDays(items);
  const known = tunes.map((tune) => knownTune(tune, days)).sort(latestFirst);
  const learning = known.filter(({ status }) => status === "learning").slice(0, MOST_OPENED);
  const untouched = known.filter(({ status }) => status === "new");
  const isFull = items.length === 0 || learning.length >= MOST_OPENED;
  const toTry = isFull ? [] : someOf(untouched, seed);
  const asks = [
    ...learning.map(({ tuneId }) => ({ tuneId, isFitted: false })),
    ...toTry.map(({ tuneId }) => ({ tuneId, isFitted: true })),
  ];
  const steps = asks.length === 0 ? new Map<string, SteppedTune>() : await stepsOf(asks);
  const opened = learning.map((tune) => withRungs(tune, steps.get(tune.tuneId)));
  const begun = toBegin(toTry, steps);
  const others = known.filter(({ status }) => status === "at tempo" || status === "resting");
  return [...opened, ...others, ...(begun === null ? [] : [begun])];
}

function lastDays(items: readonly ItemRow[]): ReadonlyMap<string, PracticeDay> {
  const days = new Map<string, PracticeDay>();
  for (const { what, lastDay } of items) {
    const { tuneId } = what;
    if (tuneId !== undefined && lastDay > (days.get(tuneId) ?? "")) days.set(tuneId, lastDay);
  }
  return days;
}

function knownTune(
  { tuneId, title, standing }: StandingTune,
  days: ReadonlyMap<string, PracticeDay>,
): PlanTune {
  const { status, reached } = standing;
  const whole = reached?.kind === "whole tune" ? { id: reached.rung, words: reached.words } : null;
  return { tuneId, title, status, lastDay: days.get(tuneId) ?? null, next: null, whole };
}

function latestFirst(one: PlanTune, other: PlanTune): number {
  const number = ({ lastDay }: PlanTune) =>
    lastDay === null ? Number.NEGATIVE_INFINITY : dayNumber(lastDay);
  const [a, b] = [number(one), number(other)];
  return a === b ? (one.tuneId < other.tuneId ? -1 : 1) : b - a;
}

/** The tune with the rung to be climbed next, and the whole tune where that is as far. */
function withRungs(tune: PlanTune, stepped: SteppedTune | undefined): PlanTune {
  if (stepped === undefined) return tune;
  const { ladder, tries, heard, rule, dance } = stepped;
  const states = ladderState(ladder, tries, heard, rule, dance);
  // What is only listened to is heard before the first try at it anyway.
  const played = states.filter(({ rung }) => rung.kind !== "listen");
  const next = played.find(({ state }) => state !== "climbed")?.rung ?? null;
  const whole = played.findLast(({ rung, state }) => rung.kind === "whole tune" && state === "climbed");
  return {
    ...tune,
    next: next === null ? null : asRung(next),
    whole: whole === undefined ? null : asRung(whole.rung),
  };
}

const asRung = ({ id, words }: Rung): PlanRung => ({ id, words });

/** Of a few tunes nobody began the one with the fewest notes bent, where the harps have all its notes; null without one. */
function toBegin(tunes: readonly PlanTune[], steps: ReadonlyMap<string, SteppedTune>): PlanTune | null {
  const [best] = tunes
    .flatMap((tune) => {
      const stepped = steps.get(tune.tuneId);
      const fit = stepped?.fit ?? null;
      return stepped === undefined || fit === null || fit.missing > 0 ? [] : [{ tune, stepped, fit }];
    })
    .sort((one, other) => one.fit.bent - other.fit.bent);
  return best === undefined ? null : withRungs(best.tune, best.stepped);
}

/** As many as are looked at, by chance and each once; the order they come in does not matter. */
function someOf(tunes: readonly PlanTune[], seed: number): readonly PlanTune[] {
  const left = [...tunes].sort((one, other) => (one.tuneId < other.tuneId ? -1 : 1));
  const random = seededRandom(seed);
  return Array.from({ length: Math.min(MOST_TRIED, left.length) }, () =>
    left.splice(Math.floor(random() * left.length), 1),
  ).flat();
}
