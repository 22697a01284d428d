/** Bytes of a file. An hour of a whole band has some 1 MB. */
export const LARGEST_FILE = 8_000_000;
/** Of the track that is read: an hour and a half of quavers at a reel's tempo. */
export const MOST_TRACK_NOTES = 20_000;
export const MOST_TRACKS = 1000;
/** Events of all tracks together. */
export const MOST_EVENTS = 1_000_000;
/** Crotchets from the beginning to the last event: a day at 120 a minute. */
export const LONGEST_CROTCHETS = 172_800;
