import { ReedpathDatabase } from "../store/database.ts";
import { DexieHistoryUpkeep } from "../store/dexie-history-upkeep.ts";
import type { VerifyReport } from "./verify-report.ts";

const report = (message: VerifyReport) => self.postMessage(message);

self.onmessage = () => {
  const database = new ReedpathDatabase();
  new DexieHistoryUpkeep(database)
    .verify({ repair: true, onProgress: (share) => report({ kind: "progress", share }) })
    .then(
      (verified) => report({ kind: "done", verified }),
      (error: unknown) =>
        report({ kind: "failed", reason: error instanceof Error ? error.message : String(error) }),
    )
    .finally(() => database.close());
};
