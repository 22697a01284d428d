import type { Backup, ReedpathBridge } from "../../electron/bridge.ts";
import type { LongWork } from "../store/history-store.ts";
import type { ArchiveWork } from "./archive-work.ts";
import { openBackup } from "./sink.ts";

/** The newest first. @throws Error with a sentence where they cannot be listed */
export async function listBackups(bridge: Pick<ReedpathBridge, "backups">): Promise<readonly Backup[]> {
  const answer = await bridge.backups();
  if (answer.kind === "failed") throw new Error(answer.reason);
  return answer.backups;
}

/** A backup whole, as a file. @throws Error with a sentence where it cannot be read */
export async function readBackup(bridge: Pick<ReedpathBridge, "readBackup">, name: string): Promise<Blob> {
  const pieces: Blob[] = [];
  for (let at = 0; ; ) {
    const answer = await bridge.readBackup(name, at);
    if (answer.kind === "failed") throw new Error(answer.reason);
    if (answer.bytes.length === 0) return new Blob(pieces);
    pieces.push(new Blob([new Uint8Array(answer.bytes)]));
    at += answer.bytes.length;
  }
}

/** Everything but the takes, where the shell keeps it. @throws Error with a sentence where it cannot be saved */
export async function backUp(
  bridge: ReedpathBridge,
  work: Pick<ArchiveWork, "save">,
  attempts: number,
  long: LongWork = {},
): Promise<void> {
  const opened = await openBackup(bridge, attempts);
  if (opened.kind === "cancelled") return;
  if (opened.kind === "failed") throw new Error(opened.reason);
  const saved = await work.save(false, opened.sink, long);
  if (saved.kind === "failed") throw new Error(saved.reason);
}
