import { ArchiveStore } from "../store/archive-store.ts";
import { ReedpathDatabase } from "../store/database.ts";
import { DexieHistoryArchive } from "../store/dexie-history-archive.ts";
import { DexieHistoryStore } from "../store/dexie-history-store.ts";
import type { ArchiveAsk, ArchiveJob, ArchiveReport } from "./archive-messages.ts";
import { archiveTexts } from "./archive-texts.ts";
import { bringIn } from "./bring-in.ts";
import { encoded, gzipped } from "./gzip.ts";
import { lookAtArchive } from "./look-at-archive.ts";
import { tableTexts } from "./table-texts.ts";

const report = (message: ArchiveReport) => self.postMessage(message);

let told = 0;
/** Not more often than anyone sees. */
function tell(share: number): void {
  if (share < 1 && share - told < 0.005) return;
  told = share;
  report({ kind: "progress", share });
}

let putAway: () => void = () => {};

async function sendAll(pieces: AsyncIterable<Uint8Array<ArrayBuffer>>): Promise<void> {
  for await (const bytes of pieces) {
    const done = new Promise<void>((resolve) => {
      putAway = resolve;
    });
    report({ kind: "piece", bytes });
    await done;
  }
  report({ kind: "all" });
}

async function obey(job: ArchiveJob): Promise<void> {
  const database = new ReedpathDatabase();
  const everything = new ArchiveStore(database);
  const history = new DexieHistoryStore(database, () => crypto.randomUUID());
  switch (job.kind) {
    case "archive":
      return sendAll(gzipped(archiveTexts(everything, job.withTakes, tell)));
    case "table":
      return sendAll(encoded(tableTexts({ everything, lines: history }, job.of, job.filter, tell)));
    case "look":
      return report({ kind: "looked", look: await lookAtArchive(everything, job.file, tell) });
    case "bring in": {
      const into = { everything, attempts: new DexieHistoryArchive(database), stars: history };
      return report({ kind: "brought", brought: await bringIn(into, job.file, job.wish, tell) });
    }
  }
}

self.onmessage = ({ data }: MessageEvent<ArchiveAsk>) => {
  if (data.kind === "next piece") return putAway();
  obey(data).catch((error: unknown) =>
    report({ kind: "failed", reason: error instanceof Error ? error.message : String(error) }),
  );
};
