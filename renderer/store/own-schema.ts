/** Dexie counts its versions in tenths, and raises the last figure itself where it adds what a database lacks. */
const TENTHS = 10;

/** The version the engine knows a schema under. */
export const engineVersion = (schema: number): number => TENTHS * schema;

/**
 * An engine that opens a database of this schema or an older one, and no other. Asked for a version below that of the database,
 * Dexie opens it as it stands and adds the tables it knows and does not find: it would write into the database of a newer
 * program before anyone could say no.
 */
export function upToSchema(engine: IDBFactory, schema: number): IDBFactory {
  return {
    // Dexie asks for no version where its own was refused: the schema may be ours and its last figure raised.
    open: (name, version = engineVersion(schema) + TENTHS - 1) => engine.open(name, version),
    deleteDatabase: (name) => engine.deleteDatabase(name),
    databases: () => engine.databases(),
    cmp: (one, other) => engine.cmp(one, other),
  };
}
