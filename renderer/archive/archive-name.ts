import { practiceDay } from "../../core/progress/practice-day.ts";

export const ARCHIVE_TYPE = "application/gzip";
export const TABLE_TYPE = "text/csv";

/** Names tell the day; the files do not. */
export const archiveName = (nowEpochMs: number, zone: string): string =>
  `reedpath-archive-${practiceDay(nowEpochMs, zone)}.gz`;

export const tableName = (of: "attempts" | "notes", nowEpochMs: number, zone: string): string =>
  `reedpath-${of}-${practiceDay(nowEpochMs, zone)}.csv`;
