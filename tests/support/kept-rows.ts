/** The databases of earlier versions as they stand in `tests/fixtures/kept`; for Node and for a page. */

export type Row = Readonly<Record<string, unknown>>;

export interface KeptTable {
  readonly keyPath: string | string[];
  readonly autoIncrement: boolean;
  readonly indexes: readonly {
    readonly name: string;
    readonly keyPath: string | string[];
    readonly unique: boolean;
    readonly multiEntry: boolean;
  }[];
  readonly rows: readonly Row[];
}

/** Everything a database held. */
export interface KeptDatabase {
  /** As the database counts: ten times the schema's. */
  readonly version: number;
  readonly tables: Readonly<Record<string, KeptTable>>;
}

/** What such a file says, unpacked. */
export function readKept(text: string): KeptDatabase {
  const read = JSON.parse(text) as KeptDatabase;
  const tables = Object.entries(read.tables).map(([name, table]) => [
    name,
    { ...table, rows: table.rows.map(backFromJson) as Row[] },
  ]);
  return { ...read, tables: Object.fromEntries(tables) };
}

const ARRAYS = { Float32Array, Float64Array, Int32Array, Uint8Array } as const;

function backFromJson(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(backFromJson);
  if (typeof value !== "object" || value === null) return value;
  const { $array: type, planes, $number: number } = value as Record<string, string | undefined>;
  if (number !== undefined) return Number(number);
  if (type !== undefined && planes !== undefined) return fromPlanes(type as keyof typeof ARRAYS, planes);
  return Object.fromEntries(Object.entries(value).map(([name, part]) => [name, backFromJson(part)]));
}

function fromPlanes(type: keyof typeof ARRAYS, base64: string) {
  const planes = Uint8Array.from(atob(base64), (one) => one.charCodeAt(0));
  const size = ARRAYS[type].BYTES_PER_ELEMENT;
  const bytes = Uint8Array.from(
    planes,
    (_, i) => planes[(i % size) * (planes.length / size) + Math.floor(i / size)] as number,
  );
  return new ARRAYS[type](bytes.buffer);
}

/** Makes the database anew as it was. */
export async function putBack(indexedDB: IDBFactory, name: string, kept: KeptDatabase): Promise<void> {
  const database = await new Promise<IDBDatabase>((resolve, reject) => {
    const opening = indexedDB.open(name, kept.version);
    opening.onupgradeneeded = () => {
      for (const [table, { keyPath, autoIncrement, indexes, rows }] of Object.entries(kept.tables)) {
        const store = opening.result.createObjectStore(table, { keyPath, autoIncrement });
        for (const { name: index, keyPath: parts, unique, multiEntry } of indexes)
          store.createIndex(index, parts, { unique, multiEntry });
        for (const row of rows) store.put(row);
      }
    };
    opening.onsuccess = () => resolve(opening.result);
    opening.onerror = () => reject(opening.error);
  });
  database.close();
}
