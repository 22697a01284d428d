import type { Harp } from "../../core/instrument/harp.ts";
import type { Abilities } from "../../core/instrument/reed-actions.ts";
import type { PlanTune } from "../../core/progress/plan-shape.ts";
import { type LaidForPlan, planTunes } from "../../core/progress/plan-tunes.ts";
import type { ItemRow } from "../../core/progress/revisit.ts";
import type { HistoryStore } from "../store/history-store.ts";
import type { ListedTune, TuneStore } from "../store/tune-store.ts";
import { standingOf } from "../tunes/repertoire-view.ts";
import { danceTempo, type OpenTune, planSetting, type TuneRules } from "../tunes/tune-view.ts";
import type { TuneWork } from "../tunes/tune-work.ts";

/** What tunes are opened and laid on harps with. */
export interface PlanTuneWorld {
  readonly openTune: (id: string) => Promise<OpenTune | null>;
  /** All tunes of the list. */
  readonly listed: () => Promise<readonly ListedTune[]>;
  readonly history: Pick<HistoryStore, "triesAtAll">;
  readonly tunes: Pick<TuneStore, "studies">;
  readonly work: Pick<TuneWork, "plan">;
  readonly harps: readonly Harp[];
  readonly abilities: Abilities;
  readonly rules: TuneRules;
  readonly nowEpochMs: () => number;
}

/** The tunes of the list as a plan needs them, each standing where the list says it does. */
export async function tunesForPlan(
  items: readonly ItemRow[],
  seed: number,
  world: PlanTuneWorld,
  signal: AbortSignal,
): Promise<readonly PlanTune[]> {
  // Who has not practised yet begins with drills: no tune has to be read.
  if (items.length === 0) return [];
  const { harps, abilities, rules } = world;
  const [tries, studies, listed] = await Promise.all([
    world.history.triesAtAll(),
    world.tunes.studies(),
    world.listed(),
  ]);
  signal.throwIfAborted();
  const studyOf = new Map(studies.map((study) => [study.id, study]));
  const repertoire = { studies: studyOf, tries, rule: rules.ladder, nowEpochMs: world.nowEpochMs() };
  const standing = listed.map((tune) => ({
    tuneId: tune.id,
    title: tune.title,
    standing: standingOf(tune, repertoire),
  }));
  const lay = async (tuneId: string): Promise<LaidForPlan | null> => {
    const open = await world.openTune(tuneId);
    signal.throwIfAborted();
    if (open === null) return null;
    return {
      plan: await world.work.plan(planSetting(open, harps, abilities, rules), signal),
      tries: tries.get(tuneId) ?? [],
      heard: new Set(open.study.heard ?? []),
      dance: danceTempo(open),
      rule: rules.ladder,
    };
  };
  return planTunes(standing, items, seed, lay);
}
