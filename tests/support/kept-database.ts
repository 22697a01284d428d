import { readFileSync } from "node:fs";
import path from "node:path";
import { brotliDecompressSync } from "node:zlib";
import { type KeptDatabase, readKept } from "./kept-rows.ts";

/** Schemas of which there is a file in `tests/fixtures/kept`. */
export const EARLIER_VERSIONS = [1, 2, 3, 4, 5] as const;
export type EarlierVersion = (typeof EARLIER_VERSIONS)[number];

const FOLDER = path.join(import.meta.dirname, "..", "..", "tests", "fixtures", "kept");

/** What the program of an earlier version had kept, as a text. */
export const textOfVersion = (schema: EarlierVersion): string =>
  brotliDecompressSync(readFileSync(path.join(FOLDER, `kept-by-version-${schema}.json.br`))).toString("utf8");

/** The same, read. */
export const keptByVersion = (schema: EarlierVersion): KeptDatabase => readKept(textOfVersion(schema));
