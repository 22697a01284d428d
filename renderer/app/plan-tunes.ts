import type { Harp } from "../../core/instrument/harp.ts";
import type { Abilities } from "../../core/instrument/reed-actions.ts";
import type { PlanTune } from "../../core/progress/plan/plan-shape.ts";
import { planTunes, type SteppedTune, type StepsAsk } from "../../core/progress/plan/plan-tunes.ts";
import type { ItemRow } from "../../core/progress/revisit/revisit.ts";
import type { HistoryStore } from "../store/history-store.ts";
import type { KeptTune, ListedTune, TuneStore } from "../store/tune-store.ts";
import { standingOf } from "../tunes/repertoire-view.ts";
import type { TuneRules } from "../tunes/tune-view.ts";
import type { TuneWork } from "../tunes/tune-work.ts";

/** What the steps of tunes are found with. */
export interface PlanTuneWorld {
  /** Null where it is no longer there. */
  readonly tuneText: (id: string) => Promise<Pick<KeptTune, "abc"> | null>;
  /** All tunes of the list. */
  readonly listed: () => Promise<readonly ListedTune[]>;
  readonly history: Pick<HistoryStore, "triesAtAll">;
  readonly tunes: Pick<TuneStore, "studies">;
  readonly work: Pick<TuneWork, "steps">;
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
  const stepsOf = async (asks: readonly StepsAsk[]): Promise<ReadonlyMap<string, SteppedTune>> => {
    const texts = await Promise.all(
      asks.map(async ({ tuneId, isFitted }) => {
        const found = await world.tuneText(tuneId);
        const study = studyOf.get(tuneId) ?? { id: tuneId };
        return found === null ? [] : [{ id: tuneId, abc: found.abc, study, isFitted }];
      }),
    );
    signal.throwIfAborted();
    const steps = await world.work.steps(texts.flat(), { harps, abilities, rules }, signal);
    return new Map(
      [...steps].map(([id, one]) => {
        const heard = new Set(studyOf.get(id)?.heard ?? []);
        return [id, { ...one, tries: tries.get(id) ?? [], heard, rule: rules.ladder }];
      }),
    );
  };
  return planTunes(standing, items, seed, stepsOf);
}
