import type { Tempo } from "../tune/tempo.ts";
import { ladderOf, type Rung } from "./tune-ladder.ts";
import { layPath, phrasesOfSetting, type TunePlanSetting } from "./tune-plan.ts";

/** What a plan of the day has to know of a tune. */
export interface TuneSteps {
  readonly ladder: readonly Rung[];
  /** The tempo the ladder leads to. */
  readonly dance: Tempo;
  /** How it lies on the best of the harps, in notes; null where that was not asked. */
  readonly fit: { readonly missing: number; readonly bent: number } | null;
}

/**
 * The ladder of a tune without laying it under the breath, which takes most of the time and which the ladder does not depend on.
 *
 * @param isFitted whether it is to be laid on the harps after all
 */
export function tuneSteps(setting: TunePlanSetting, isFitted: boolean): TuneSteps {
  const { tune, tempo, rule } = setting;
  return {
    ladder: ladderOf(tune, phrasesOfSetting(setting), rule),
    dance: tempo,
    fit: isFitted ? fitOf(setting) : null,
  };
}

function fitOf(setting: TunePlanSetting): TuneSteps["fit"] {
  const { missing, actions } = layPath(setting).path;
  const bent = actions.filter((action) => action !== null && action.technique !== "plain").length;
  return { missing: missing.length, bent };
}
