import type { Days, WeakSpotsAnswer, WeakSpotsAsk } from "../progress/progress-view.ts";
import type { ProgressSources } from "./progress-answers.ts";

export async function weakSpotsOfDays(
  _s: ProgressSources,
  days: Days,
  _ask: WeakSpotsAsk,
): Promise<WeakSpotsAnswer> {
  return { days, harps: [], shown: null };
}
