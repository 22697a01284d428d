import { IDBFactory, IDBKeyRange } from "fake-indexeddb";
import { archiveTexts } from "../../../renderer/archive/archive-texts.ts";
import { type BringWish, bringIn } from "../../../renderer/archive/bring-in.ts";
import { gzipped } from "../../../renderer/archive/gzip.ts";
import { lookAtArchive } from "../../../renderer/archive/look-at-archive.ts";
import { ArchiveStore } from "../../../renderer/store/archive-store.ts";
import { ReedpathDatabase } from "../../../renderer/store/database.ts";
import { DexieHistoryArchive } from "../../../renderer/store/dexie-history-archive.ts";
import { DexieHistoryStore } from "../../../renderer/store/dexie-history-store.ts";
import { DexieHistoryUpkeep } from "../../../renderer/store/dexie-history-upkeep.ts";
import { countingIds } from "../store-entries.ts";

/** A player's program on one machine, with a database of its own. */
export class Machine {
  readonly database = new ReedpathDatabase({ indexedDB: new IDBFactory(), IDBKeyRange });
  readonly everything = new ArchiveStore(this.database);
  readonly attempts = new DexieHistoryArchive(this.database);
  readonly history = new DexieHistoryStore(this.database, countingIds());
  readonly upkeep = new DexieHistoryUpkeep(this.database);

  async archive(withTakes = true): Promise<Blob> {
    const pieces: Uint8Array<ArrayBuffer>[] = [];
    for await (const piece of gzipped(archiveTexts(this.everything, withTakes, () => {}))) pieces.push(piece);
    return new Blob(pieces);
  }

  look = (file: Blob) => lookAtArchive(this.everything, file, () => {});

  bringIn = (file: Blob, wish: BringWish = { theirs: false }) =>
    bringIn(
      { everything: this.everything, attempts: this.attempts, stars: this.history },
      file,
      wish,
      () => {},
    );

  wipe = () => this.everything.wipe();

  /** What a full recount finds wrong. */
  async differences(): Promise<readonly string[]> {
    return (await this.upkeep.verify()).differences;
  }
}

export const bytesOf = async (file: Blob) => Buffer.from(await file.arrayBuffer());
