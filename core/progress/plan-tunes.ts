import { readRungId } from "../exercise/tune-ladder.ts";
import type { PlanTune } from "./plan-shape.ts";
import { dayNumber, daysFromTo, type PracticeDay } from "./practice-day.ts";
import { RESTS_AFTER_DAYS } from "./repertoire-status.ts";
import type { ItemRow } from "./revisit.ts";

/**
 * The tunes that were ever played at, the latest first, as far as the items alone tell: at tempo where the whole tune held at the
 * dance tempo when it was last tried, resting where it was not played for long, being learned otherwise. Which rung comes next
 * only the opened tune says.
 */
export function knownTunes(items: readonly ItemRow[], day: PracticeDay): readonly PlanTune[] {
  const byTune = new Map<string, ItemRow[]>();
  for (const row of items) {
    const { tuneId } = row.what;
    if (tuneId === undefined) continue;
    const own = byTune.get(tuneId);
    if (own === undefined) byTune.set(tuneId, [row]);
    else own.push(row);
  }
  return [...byTune]
    .map(([tuneId, rows]) => tuneOf(tuneId, rows, day))
    .sort((one, other) => lastOf(other) - lastOf(one) || (one.tuneId < other.tuneId ? -1 : 1));
}

const lastOf = ({ lastDay }: PlanTune) => (lastDay === null ? Number.NEGATIVE_INFINITY : dayNumber(lastDay));

function tuneOf(tuneId: string, rows: readonly ItemRow[], day: PracticeDay): PlanTune {
  const [latest] = [...rows].sort((one, other) => daysFromTo(one.lastDay, other.lastDay));
  const danced = rows.find(({ what, verdict }) => verdict === "held" && isDanced(what.rung))?.what.rung;
  const lastDay = latest?.lastDay ?? null;
  const rests = lastDay !== null && daysFromTo(lastDay, day) > RESTS_AFTER_DAYS;
  return {
    tuneId,
    // "The tune's title, A 1–4": what follows the last comma is the stretch.
    title: latest?.what.title.replace(/, [^,]*$/, "") ?? "",
    status: rests ? "resting" : danced === undefined ? "learning" : "at tempo",
    lastDay,
    next: null,
    whole: danced === undefined ? null : { id: danced, words: "whole tune" },
  };
}

/** Whether a rung is the whole tune at the dance tempo. */
function isDanced(rung: string | undefined): boolean {
  const read = rung === undefined ? null : readRungId(rung);
  return read !== null && read.kind === "whole tune" && read.tempoShare >= 1;
}
