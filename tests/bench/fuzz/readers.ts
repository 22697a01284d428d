import type { FuzzedReader } from "./fuzzed-reader.ts";
import { jsonReaders } from "./json-readers.ts";
import { archiveReader, wavReader } from "./other-readers.ts";
import { tuneReaders } from "./tune-readers.ts";

/** Every reader of files that window or command has. @param beside folder of files the commands need beside the one read */
export const fuzzedReaders = (beside: string): readonly FuzzedReader[] => [
  ...tuneReaders(),
  wavReader(),
  archiveReader(),
  ...jsonReaders(beside),
];
