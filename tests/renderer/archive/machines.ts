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
import type { StoredEntry } from "../../../renderer/store/history-entry.ts";
import { FIRST_SETTINGS } from "../../../renderer/store/settings-store.ts";
import { entryValue, measurementValue, setListValue, tuneValue } from "../../support/archives.ts";
import { harp } from "../../support/harps.ts";
import { countingIds } from "../store-entries.ts";

type Engine = ConstructorParameters<typeof ReedpathDatabase>[0];

/** A player's program on one machine, with a database of its own. */
export class Machine {
  readonly database: ReedpathDatabase;
  readonly everything: ArchiveStore;
  readonly attempts: DexieHistoryArchive;
  readonly history: DexieHistoryStore;
  readonly upkeep: DexieHistoryUpkeep;

  constructor(engine: Engine = { indexedDB: new IDBFactory(), IDBKeyRange }, newId = countingIds()) {
    this.database = new ReedpathDatabase(engine);
    this.everything = new ArchiveStore(this.database);
    this.attempts = new DexieHistoryArchive(this.database);
    this.history = new DexieHistoryStore(this.database, newId);
    this.upkeep = new DexieHistoryUpkeep(this.database);
  }

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

const VALUE = entryValue() as unknown as Omit<StoredEntry, "id" | "take">;

/** An attempt as a machine keeps it; the same name is the same attempt wherever it is. */
export function entry(name: string, changes: Partial<StoredEntry> = {}): StoredEntry {
  const number = name.charCodeAt(0);
  const samples = Float32Array.from({ length: 50 }, (_, n) => ((n * number) % 17) / 32);
  const take = { sampleRateHz: 48_000, samples };
  return { ...VALUE, id: name, atEpochMs: 1_790_000_000_000 + number * 9_000_000, take, ...changes };
}

/** Everything a player may keep, apart from attempts. */
export async function furnish(machine: Machine, harpNote = "the band's"): Promise<void> {
  const { settings, layouts, harps, tunes, tuneTexts, tuneStudies, setLists, wishes, measurements } =
    machine.database;
  const { abc, ...line } = { ...tuneValue(), id: "tune-1" };
  await settings.put({ id: "settings", value: { ...FIRST_SETTINGS, a4Hz: 443 } });
  await layouts.put({ id: "layout-1", layout: harp("G").layout });
  await harps.put({ id: "harp-1", harp: harp("G"), note: harpNote });
  await tunes.put(line);
  await tuneTexts.put({ id: "tune-1", abc });
  await tuneStudies.put({ id: "tune-1", danceBpm: 112 });
  await setLists.put({ ...setListValue(), id: "list-1" });
  await measurements.put({ ...measurementValue(), id: "measurement-1" });
  await wishes.put({ item: "item-1", kind: "suspended", wishedAtEpochMs: 10 });
}

export const bytesOf = async (file: Blob) => Buffer.from(await file.arrayBuffer());
