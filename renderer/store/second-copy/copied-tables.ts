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

const whole = (row: Row): Row => row;
/** Rows of a few hundred bytes; of some thousands; of a million. */
const [MANY, SOME, FEW] = [500, 200, 20];

/**
 * Everything that cannot be counted anew, in the order in which it is brought back: attempts last, as there may be very many.
 * Of the list only the stars: its lines follow from the attempts.
 */
export const COPIED_TABLES: readonly CopiedTable[] = [
  { from: "settings", what: "the settings", to: "settings", key: "id", part: whole, atOnce: MANY },
  { from: "layouts", what: "your layouts", to: "layouts", key: "id", part: whole, atOnce: MANY },
  { from: "harps", what: "your harps", to: "harps", key: "id", part: whole, atOnce: MANY },
  { from: "tunes", what: "your tunes", to: "tunes", key: "id", part: whole, atOnce: MANY },
  { from: "tuneTexts", what: "your tunes' texts", to: "tuneTexts", key: "id", part: whole, atOnce: MANY },
  {
    from: "tuneStudies",
    what: "what you set for tunes",
    to: "tuneStudies",
    key: "id",
    part: whole,
    atOnce: MANY,
  },
  {
    from: "wishes",
    what: "what you moved or suspended",
    to: "wishes",
    key: "item",
    part: whole,
    atOnce: MANY,
  },
  { from: "setLists", what: "your set lists", to: "setLists", key: "id", part: whole, atOnce: MANY },
  {
    from: "measurements",
    what: "your measurements",
    to: "measurements",
    key: "id",
    part: whole,
    atOnce: SOME,
  },
  {
    from: "meta",
    what: "what is known of archives",
    to: "notes",
    key: "id",
    part: (row) => (row.id === "archive" ? row : null),
    atOnce: MANY,
  },
  {
    from: "runningTakes",
    what: "takes that were cut off",
    to: "runningTakes",
    key: "id",
    part: whole,
    atOnce: FEW,
  },
  {
    from: "takePieces",
    what: "pieces of takes that were cut off",
    to: "takePieces",
    key: "[take+number]",
    part: whole,
    atOnce: FEW,
  },
  { from: "takes", what: "takes", to: "takes", key: "id", part: whole, atOnce: FEW },
  {
    from: "lines",
    what: "stars",
    to: "stars",
    key: "id",
    part: ({ id, starred }) => (starred === 1 ? { id } : null),
    atOnce: MANY,
  },
  { from: "attempts", what: "attempts", to: "attempts", key: "id", part: whole, atOnce: SOME },
];

/** A table as rows without a shape of their own: whoever copies does not look into them. */
export const plainTable = (database: Tables, name: TableName): Table<Row, Key> =>
  database[name] as unknown as Table<Row, Key>;
