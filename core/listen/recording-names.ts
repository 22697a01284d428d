/** How files of sound end that a player's recorder, telephone or editor writes. */
const RECORDING = /^[^.].*[.](wave?|flac|mp3|m4a|mp4|aac|og[ga]|opus|webm|aiff?)$/i;

/**
 * Whether a file found in a folder is to be taken for a recording. Names that begin with a point are not: systems keep
 * their own notes beside files under such names, with the file's ending.
 *
 * @param path the name, with or without folders before it
 */
export function isRecordingName(path: string): boolean {
  return RECORDING.test(path.split(/[\\/]/).at(-1) ?? "");
}

const collator = new Intl.Collator("en", { numeric: true, sensitivity: "base" });

/** Order of names as people count: "take 2" before "take 10", whatever the case. */
export function byName(one: string, other: string): number {
  return collator.compare(one, other) || (one < other ? -1 : one > other ? 1 : 0);
}
