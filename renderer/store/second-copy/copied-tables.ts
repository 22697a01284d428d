import type { Table } from "dexie";
import type { Tables } from "../tables.ts";
import type { Key } from "./noted-changes.ts";

/** As the database gives them. */
export type Row = Readonly<Record<string, unknown>>;

/** What of a table lies in the second copy too. */
export interface CopiedTable {
  /** Its name. */
  readonly from: TableName;
  /** The name of the copy's table. */
  readonly to: string;
  /** As a player calls it. */
  readonly what: string;
  /** Its primary key, in the words of Dexie's schemas. */
  readonly key: string;
  /** What of a row is copied; null for nothing. */
  readonly part: (row: Row) => Row | null;
  /** Rows that are in memory at once. */
  readonly atOnce: number;
}

export type TableName = keyof Tables & string;

/** Rows of a few hundred bytes; of some thousands; of a million. */
const [MANY, SOME, FEW] = [500, 200, 20];

/** A table that lies there whole, under its own name. */
const whole = (from: TableName, what: string, atOnce = MANY, key = "id"): CopiedTable => ({
  from,
  to: from,
  what,
  key,
  part: (row) => row,
  atOnce,
});

/**
 * Everything that cannot be counted anew, in the order in which it is brought back: attempts last, as there may be very many.
 * Of the list only the stars: its lines follow from the attempts.
 */
export const COPIED_TABLES: readonly CopiedTable[] = [
  whole("settings", "the settings"),
  whole("layouts", "your layouts"),
  whole("harps", "your harps"),
  whole("tunes", "your tunes"),
  whole("tuneTexts", "your tunes' texts"),
  whole("tuneStudies", "what you set for tunes"),
  whole("wishes", "what you moved or suspended", MANY, "item"),
  whole("setLists", "your set lists"),
  whole("measurements", "your measurements", SOME),
  {
    ...whole("meta", "what is known of archives"),
    to: "notes",
    part: (row) => (row.id === "archive" ? row : null),
  },
  whole("runningTakes", "takes that were cut off", FEW),
  whole("takePieces", "pieces of takes that were cut off", FEW, "[take+number]"),
  whole("takes", "takes", FEW),
  {
    ...whole("lines", "stars"),
    to: "stars",
    part: ({ id, starred }) => (starred === 1 ? { id } : null),
  },
  whole("attempts", "attempts", SOME),
];

/** A table as rows without a shape of their own: whoever copies does not look into them. */
export const plainTable = (database: Tables, name: TableName): Table<Row, Key> =>
  database[name] as unknown as Table<Row, Key>;
