import { answerProgress } from "../../../renderer/app/progress-answers.ts";
import type { AskKind, ProgressAnswers } from "../../../renderer/progress/progress-view.ts";
import type { HistoryEntry } from "../../../renderer/store/history-store.ts";
import { MemoryHistoryStore } from "../../../renderer/store/memory-history-store.ts";
import { MemoryProgressStore } from "../../../renderer/store/memory-progress-store.ts";

/** Answers questions about these entries as the worker does, from a history in memory. */
export function asking(entries: readonly HistoryEntry[]) {
  const history = new MemoryHistoryStore(() => "new");
  for (const entry of entries) history.entries.set(entry.id, { ...entry, take: null });
  const sources = {
    progress: new MemoryProgressStore(history),
    exerciseOf: async (id: string) => (await history.open(id))?.exercise ?? null,
  };
  return <Kind extends AskKind>(
    kind: Kind,
    ask: ProgressAnswers[Kind]["ask"],
  ): Promise<ProgressAnswers[Kind]["answer"]> => answerProgress(sources, kind, ask);
}
