import type { DBCore, DBCoreMutateRequest, DBCoreTable, Dexie, Middleware } from "dexie";

/** Primary keys: texts, or texts and numbers in a row. */
export type Key = string | readonly (string | number)[];

/** Rows of a table that were written or deleted and are to be copied: these, those between two keys, or all. */
export type NotedChange = { readonly number?: number; readonly table: string } & (
  | { readonly keys: readonly Key[] }
  | { readonly from: Key; readonly to: Key }
  | { readonly all: true }
);

/** The table of notes. */
export const NOTES = "uncopied";

export interface Noting {
  readonly tables: ReadonlySet<string>;
  /** Asked at every change. */
  readonly isOn: () => boolean;
  /** Told of every note, within its transaction. */
  readonly onNote: () => void;
  /** Told after a transaction with notes is done. */
  readonly onDone: () => void;
}

/**
 * Notes in the very transaction of a change what has to be copied: whatever becomes of the copy, or of the program before it was
 * written, nothing that changed is forgotten. To be called before the database is opened.
 */
export function noteChanges(database: Dexie, noting: Noting): void {
  const middleware: Middleware<DBCore> = {
    stack: "dbcore",
    name: "notes for the second copy",
    create: (down) => ({
      ...down,
      transaction(stores, mode, options) {
        const isNoted = mode === "readwrite" && stores.some((name) => noting.tables.has(name));
        return down.transaction(isNoted ? [...new Set([...stores, NOTES])] : stores, mode, options);
      },
      table: (name) =>
        noting.tables.has(name) ? noted(down.table(name), () => down.table(NOTES), noting) : down.table(name),
    }),
  };
  database.use(middleware);
}

/** @param notes an older database that is being upgraded has none yet */
function noted(table: DBCoreTable, notes: () => DBCoreTable, { isOn, onNote, onDone }: Noting): DBCoreTable {
  return {
    ...table,
    mutate(request) {
      const trans = request.trans as unknown as IDBTransaction;
      // Of a database that is being made or upgraded everything is copied afterwards.
      const note = trans.mode === "versionchange" || !isOn() ? null : noteOf(table, request);
      if (note === null) return table.mutate(request);
      onNote();
      trans.addEventListener("complete", onDone, { once: true });
      return notes()
        .mutate({ type: "add", trans: request.trans, values: [note] })
        .then(() => table.mutate(request));
    },
  };
}

/** Null where nothing changes. */
function noteOf({ name, schema }: DBCoreTable, request: DBCoreMutateRequest): NotedChange | null {
  if (request.type === "deleteRange") {
    const { type, lower, upper } = request.range;
    switch (type) {
      case RANGE.equal:
        return { table: name, keys: [lower] };
      case RANGE.range:
        return { table: name, from: lower, to: upper };
      case RANGE.any:
        return { table: name, all: true };
      default:
        return null;
    }
  }
  const { extractKey } = schema.primaryKey;
  const keys = request.type === "delete" ? request.keys : request.values.map((row) => extractKey?.(row));
  return keys.length === 0 ? null : { table: name, keys };
}

/** Kinds of ranges as Dexie numbers them. */
const RANGE = { equal: 1, range: 2, any: 3 } as const;
