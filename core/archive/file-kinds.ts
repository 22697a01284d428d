/** How files of tunes end that the window brings in; which of the three it is, is told by what is in it. */
export const TUNE_ENDINGS = ["abc", "musicxml", "mxl", "mid", "midi", "xml", "txt"] as const;

/** How archives end: those saved now, then those of before, and backups. Both are gzip files. */
export const ARCHIVE_ENDINGS = ["reedpath", "gz"] as const;

export type FileKind = "tunes" | "archive";

/** What a file holds by the end of its name; null for anything the window does not bring in. */
export function fileKindOf(name: string): FileKind | null {
  const ending = /\.([^.]+)$/.exec(name)?.[1]?.toLowerCase() ?? "";
  if ((TUNE_ENDINGS as readonly string[]).includes(ending)) return "tunes";
  return (ARCHIVE_ENDINGS as readonly string[]).includes(ending) ? "archive" : null;
}

/** The endings in words, for who gave something else. */
export const KNOWN_FILES = "tunes (ABC, MusicXML, MIDI) or an archive";
