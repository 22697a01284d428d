/** Where a tune stands in the repertoire. */
export const TUNE_STATUSES = ["new", "learning", "at tempo", "resting"] as const;
export type TuneStatus = (typeof TUNE_STATUSES)[number];
