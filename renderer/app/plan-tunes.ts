import { ladderState, type Rung } from "../../core/exercise/tune-ladder.ts";
import type { Harp } from "../../core/instrument/harp.ts";
import type { Abilities } from "../../core/instrument/reed-actions.ts";
import type { PlanRung, PlanTune } from "../../core/progress/plan-shape.ts";
import { knownTunes } from "../../core/progress/plan-tunes.ts";
import type { PracticeDay } from "../../core/progress/practice-day.ts";
import type { ItemRow } from "../../core/progress/revisit.ts";
import type { HistoryStore } from "../store/history-store.ts";
import type { TuneStore } from "../store/tune-store.ts";
import { danceTempo, type OpenTune, planSetting, type TuneRules } from "../tunes/tune-view.ts";
import type { TuneWork } from "../tunes/tune-work.ts";

/** What tunes are opened and laid on harps with. */
export interface PlanTuneWorld {
  readonly openTune: (id: string) => Promise<OpenTune | null>;
  readonly history: Pick<HistoryStore, "triesAt">;
  readonly tunes: Pick<TuneStore, "studies">;
  readonly work: Pick<TuneWork, "plan">;
  readonly harps: readonly Harp[];
  readonly abilities: Abilities;
  readonly rules: TuneRules;
}

/** So many tunes that are being learned are opened, the latest practised first: each takes a while. */
const MOST_OPENED = 3;

/** The tunes that were ever played at, as a plan needs them; only those being learned are opened. */
export async function planTunes(
  items: readonly ItemRow[],
  day: PracticeDay,
  world: PlanTuneWorld,
  signal: AbortSignal,
): Promise<readonly PlanTune[]> {
  const studies = new Map((await world.tunes.studies()).map((study) => [study.id, study]));
  const known = knownTunes(items, day).map((tune) => ({
    ...tune,
    status: studies.get(tune.tuneId)?.status ?? tune.status,
  }));
  const learning = known.filter(({ status }) => status === "learning").slice(0, MOST_OPENED);
  const opened = await Promise.all(learning.map((tune) => withRungs(tune, world, signal)));
  return [...opened, ...known.filter(({ status }) => status !== "learning")];
}

/** The tune with the rung to be climbed next, and the whole tune where that is as far. */
async function withRungs(tune: PlanTune, world: PlanTuneWorld, signal: AbortSignal): Promise<PlanTune> {
  const { rules, harps, abilities } = world;
  const open = await world.openTune(tune.tuneId);
  signal.throwIfAborted();
  if (open === null) return tune;
  const plan = await world.work.plan(planSetting(open, harps, abilities, rules), signal);
  const tries = await world.history.triesAt(tune.tuneId);
  const heard = new Set(open.study.heard ?? []);
  const states = ladderState(plan.ladder, tries, heard, rules.ladder, danceTempo(open));
  // What is only listened to is heard before the first try at it anyway.
  const played = states.filter(({ rung }) => rung.kind !== "listen");
  const next = played.find(({ state }) => state !== "climbed")?.rung ?? null;
  const whole = played.findLast(({ rung, state }) => rung.kind === "whole tune" && state === "climbed");
  return {
    ...tune,
    title: open.tune.title,
    next: next === null ? null : asRung(next),
    whole: whole === undefined ? null : asRung(whole.rung),
  };
}

const asRung = ({ id, words }: Rung): PlanRung => ({ id, words });
