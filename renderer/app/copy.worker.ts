import { ReedpathDatabase } from "../store/database.ts";
import { bringBack } from "../store/second-copy/bring-back.ts";
import type { CopyJob, CopyReport } from "./copy-report.ts";

const report = (message: CopyReport) => self.postMessage(message);
const onProgress = (share: number) => report({ kind: "progress", share });

async function obey(database: ReedpathDatabase, job: CopyJob): Promise<void> {
  await database.open();
  if (job === "bring back") await bringBack(database, { onProgress });
  else await database.secondCopy?.fill({ onProgress });
}

self.onmessage = ({ data }: MessageEvent<CopyJob>) => {
  const database = new ReedpathDatabase();
  obey(database, data)
    .then(
      () => report({ kind: "done" }),
      (error: unknown) =>
        report({ kind: "failed", reason: error instanceof Error ? error.message : String(error) }),
    )
    .finally(() => database.close());
};
