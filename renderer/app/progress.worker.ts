import { ReedpathDatabase } from "../store/database.ts";
import { DexieHistoryStore } from "../store/dexie-history-store.ts";
import { DexieProgressStore } from "../store/dexie-progress-store.ts";
import { answerProgress } from "./progress-answers.ts";
import type { ProgressQuestion, ProgressReport } from "./progress-report.ts";
import type { ProgressSources } from "./progress-sources.ts";

const report = (message: ProgressReport) => self.postMessage(message);

/** Open from the first question on, and opened anew after any trouble. */
let database: ReedpathDatabase | null = null;

function sources(): ProgressSources {
  database ??= new ReedpathDatabase();
  const history = new DexieHistoryStore(database, () => crypto.randomUUID());
  return {
    progress: new DexieProgressStore(database),
    exerciseOf: async (id) => (await history.open(id))?.exercise ?? null,
  };
}

self.onmessage = ({ data }: MessageEvent<ProgressQuestion>) => {
  const { number, kind, ask } = data;
  answerProgress(sources(), kind, ask).then(
    (answer) => report({ number, kind: "answer", answer }),
    (error: unknown) => {
      database?.close();
      database = null;
      report({ number, kind: "trouble", words: error instanceof Error ? error.message : String(error) });
    },
  );
};
