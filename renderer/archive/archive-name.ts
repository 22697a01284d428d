import { ARCHIVE_ENDINGS } from "../../core/archive/file-kinds.ts";
import { practiceDay } from "../../core/progress/practice-day.ts";

export const ARCHIVE_TYPE = "application/gzip";
export const TABLE_TYPE = "text/csv";

/**
 * Names tell the day; the files do not. An archive is a gzip file with an ending of its own, so that a system opens it with
 * this program and leaves other gzip files alone.
 */
export const archiveName = (nowEpochMs: number, zone: string): string =>
  `reedpath-archive-${practiceDay(nowEpochMs, zone)}.${ARCHIVE_ENDINGS[0]}`;

export const tableName = (of: "attempts" | "notes", nowEpochMs: number, zone: string): string =>
  `reedpath-${of}-${practiceDay(nowEpochMs, zone)}.csv`;
