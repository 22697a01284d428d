import { readFileSync } from "node:fs";
import path from "node:path";
import { brotliDecompressSync } from "node:zlib";

type Row = Readonly<Record<string, unknown>>;

interface KeptTable {
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

/** Schemas of which there is a file in `tests/fixtures/kept`. */
export const EARLIER_VERSIONS = [1, 2, 3, 4] as const;

/** What the program of an earlier version had kept, as it wrote it. */
export function keptByVersion(schema: (typeof EARLIER_VERSIONS)[number]): KeptDatabase {
  const file = path.join(import.meta.dirname, "..", "fixtures", "kept", `kept-by-version-${schema}.json.br`);
  const read = JSON.parse(brotliDecompressSync(readFileSync(file)).toString("utf8")) as KeptDatabase;
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
  const planes = Buffer.from(base64, "base64");
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
