import { Dexie, type Table } from "dexie";
import { upToSchema } from "../own-schema.ts";
import { COPIED_TABLES, type CopiedTable, type Row } from "./copied-tables.ts";
import { ENGINE, type EngineRow } from "./engine-log.ts";
import type { Key } from "./noted-changes.ts";

export const COPY_NAME = "reedpath-copy";

export interface Engine {
  readonly indexedDB: IDBFactory;
  readonly IDBKeyRange: typeof IDBKeyRange;
}

/** How far the copy is. */
export type CopyState =
  /** Everything was copied once: from then on it only follows. */
  | { readonly id: "whole" }
  /** While it is filled: of which table, up to which key. */
  | { readonly id: "filled"; readonly table: string; readonly upTo: Key };

/** Tables without a single index: nothing is looked for here, only brought back. */
export class CopyDatabase extends Dexie {
  declare state: Table<CopyState, CopyState["id"]>;
  declare engine: Table<EngineRow, EngineRow["id"]>;

  /** Whether there was none before this one was opened. */
  wasMade = false;

  /** @param schema that of the database whose copy it is: rows are as they are there */
  constructor({ indexedDB, IDBKeyRange }: Engine, schema: number) {
    super(COPY_NAME, {
      chromeTransactionDurability: "strict",
      indexedDB: upToSchema(indexedDB, schema),
      IDBKeyRange,
    });
    const stores = Object.fromEntries(COPIED_TABLES.map(({ to, key }) => [to, key]));
    this.version(schema).stores({ ...stores, state: "id", [ENGINE]: "id" });
    this.on("populate", () => {
      this.wasMade = true;
    });
  }

  rowsOf({ to }: CopiedTable): Table<Row, Key> {
    return this.table(to);
  }
}
