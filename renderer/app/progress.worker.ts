import { readAttempt } from "../../core/score/attempt-versions.ts";
import { ProgressGatherer } from "../progress/gather-progress.ts";
import { ReedpathDatabase } from "../store/database.ts";
import type { ProgressReport } from "./progress-report.ts";

const report = (message: ProgressReport) => self.postMessage(message);

/** Goes through all attempts, never through takes. One that a newer version kept is left out. */
async function gather(zone: string): Promise<void> {
  const database = new ReedpathDatabase();
  const gatherer = new ProgressGatherer();
  await database.attempts.each(({ id, atEpochMs, exercise, attempt }) => {
    const read = readAttempt(attempt);
    if (read.kind !== "unreadable") gatherer.add({ id, atEpochMs, zone, exercise, attempt: read.attempt });
  });
  database.close();
  report({ kind: "read", view: gatherer.view() });
}

self.onmessage = ({ data }: MessageEvent<{ readonly zone: string }>) => {
  gather(data.zone).catch((error: unknown) =>
    report({ kind: "trouble", words: error instanceof Error ? error.message : String(error) }),
  );
};
