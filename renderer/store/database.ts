import { Dexie, type EntityTable, type Table } from "dexie";
import type { PracticeDay } from "../../core/progress/practice-day.ts";
import type { SetList } from "../../core/progress/repertoire-set-list.ts";
import type { ItemRow, Wish } from "../../core/progress/revisit.ts";
import type { DayTotal, ItemDay } from "../../core/progress/roll-ups.ts";
import { FACT_VERSION } from "../../core/progress/session-fact.ts";
import type { OwnedHarp, OwnLayout } from "./harp-store.ts";
import type { AttemptRow, GroupDayRow, LineRow, MetaRow, ReedDayRow, SubjectRow, TakeRow } from "./rows.ts";
import { NewerSchemaError } from "./store-trouble.ts";
import type { ListedTune, TuneStudy } from "./tune-store.ts";
import { fillFromVersion2 } from "./upgrade-to-3.ts";

export const DATABASE_NAME = "reedpath";
export const SCHEMA_VERSION = 3;

export interface SettingsRow {
  readonly id: "settings";
  readonly value: unknown;
}

/** A tune's text, apart, so that the list never loads it. */
export interface TuneTextRow {
  readonly id: string;
  readonly abc: string;
}

/** The tables. A later schema adds a version below, never changes an older one. */
export class ReedpathDatabase extends Dexie {
  declare lines: EntityTable<LineRow, "id">;
  declare attempts: EntityTable<AttemptRow, "id">;
  declare takes: EntityTable<TakeRow, "id">;
  declare settings: EntityTable<SettingsRow, "id">;
  declare layouts: EntityTable<OwnLayout, "id">;
  declare harps: EntityTable<OwnedHarp, "id">;
  declare tunes: EntityTable<ListedTune, "id">;
  declare tuneTexts: EntityTable<TuneTextRow, "id">;
  declare tuneStudies: EntityTable<TuneStudy, "id">;
  declare subjects: EntityTable<SubjectRow, "id">;
  declare days: Table<DayTotal, PracticeDay>;
  declare groupDays: Table<GroupDayRow, [string, PracticeDay]>;
  declare reedDays: Table<ReedDayRow, [string, PracticeDay]>;
  declare itemDays: Table<ItemDay, [string, PracticeDay]>;
  declare items: EntityTable<ItemRow, "item">;
  declare wishes: EntityTable<Wish, "item">;
  declare setLists: EntityTable<SetList, "id">;
  declare meta: Table<MetaRow, MetaRow["id"]>;

  /**
   * @param indexedDb another database engine, for tests; the browser's own if left out
   * @param onUpgrade told the share of an older history that is brought to this version, 0..1
   */
  constructor(
    indexedDb?: { readonly indexedDB: IDBFactory; readonly IDBKeyRange: typeof IDBKeyRange },
    onUpgrade: (share: number) => void = () => {},
  ) {
    // Strict: a promise that says "kept" means on disk, not in the system's cache.
    super(DATABASE_NAME, { chromeTransactionDurability: "strict", ...indexedDb });
    this.version(1).stores({
      lines: "id, atEpochMs",
      attempts: "id",
      takes: "id",
      settings: "id",
      layouts: "id",
      harps: "id",
    });
    this.version(2).stores({
      lines: "id, atEpochMs, tuneId",
      tunes: "id",
      tuneTexts: "id",
      tuneStudies: "id",
    });
    this.version(SCHEMA_VERSION)
      .stores({
        lines:
          "id, [day+atEpochMs], [subject+day+atEpochMs], [starred+day+atEpochMs], tuneId, [group+day], [item+day], dropAt, demo",
        subjects: "++id, &key",
        days: "day",
        groupDays: "[group+day], day",
        reedDays: "[group+day], day",
        itemDays: "[item+day], day",
        items: "item",
        wishes: "item",
        setLists: "id",
        meta: "id",
      })
      .upgrade(async () => fillFromVersion2(this, onUpgrade));
    this.on("populate", () => void this.meta.put({ id: "rules", factVersion: FACT_VERSION }));
    // Dexie opens a newer schema as if it were its own; writing into one we do not know could spoil it.
    this.on("ready", () => this.refuseNewer(), true);
  }

  private refuseNewer(): void {
    // Dexie counts its versions in tenths.
    if (Math.floor(this.backendDB().version / 10) > SCHEMA_VERSION) throw new NewerSchemaError();
  }
}
