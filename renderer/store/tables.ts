import { Dexie, type EntityTable, type Table } from "dexie";
import type { DayTotal, ItemDay } from "../../core/progress/counts/roll-ups.ts";
import type { PracticeDay } from "../../core/progress/practice-day.ts";
import type { SetList } from "../../core/progress/repertoire/repertoire-set-list.ts";
import type { ItemRow, Wish } from "../../core/progress/revisit/revisit.ts";
import type { KeptMeasurement } from "../../core/workshop/measure/measurement.ts";
import type { OwnedHarp, OwnLayout } from "./harp-store.ts";
import type {
  AttemptRow,
  GroupDayRow,
  LineRow,
  MetaRow,
  PieceRow,
  ReedDayRow,
  RunningRow,
  SubjectRow,
  TakeRow,
  TuneDayRow,
} from "./rows.ts";
import type { EngineRow } from "./second-copy/engine-log.ts";
import type { NotedChange } from "./second-copy/noted-changes.ts";
import type { ListedTune, TuneStudy } from "./tune-store.ts";

export interface SettingsRow {
  readonly id: "settings";
  readonly value: unknown;
}

/** A tune's text, apart, so that the list never loads it. */
export interface TuneTextRow {
  readonly id: string;
  readonly abc: string;
}

/** The tables as the newest schema has them, for whatever reads and writes them. */
export abstract class Tables extends Dexie {
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
  declare tuneDays: Table<TuneDayRow, [string, PracticeDay]>;
  declare items: EntityTable<ItemRow, "item">;
  declare wishes: EntityTable<Wish, "item">;
  declare setLists: EntityTable<SetList, "id">;
  declare measurements: EntityTable<KeptMeasurement, "id">;
  declare meta: Table<MetaRow, MetaRow["id"]>;
  declare runningTakes: EntityTable<RunningRow, "id">;
  declare takePieces: Table<PieceRow, [string, number]>;
  /** What the second copy has to follow yet. */
  declare uncopied: Table<NotedChange, number>;
  declare engine: Table<EngineRow, EngineRow["id"]>;

  /** Resolves once everything written before is in the second copy, where there is one. Never rejects. */
  abstract copied(): Promise<void>;
}
