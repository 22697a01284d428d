import { byName, isRecordingName } from "../../core/listen/recording-names.ts";

/** A recording to be marked: a handle, not its sound. */
export interface RecordingFile {
  /** With the folders it lies in, but for one that holds them all. */
  readonly name: string;
  readonly file: File;
}

/** Recordings a player has pointed at, in order of their names. */
export interface Gathered {
  readonly recordings: readonly RecordingFile[];
  /** Names of what a folder holds besides. */
  readonly leftAlone: readonly string[];
  /** Whether a folder was pointed at. */
  readonly folder: boolean;
}

interface Found {
  readonly path: string;
  readonly file: File;
}

/** More would be a disk dropped by mistake. */
export const MOST_RECORDINGS = 1000;

/** Files as an input gave them; where it is for folders, what is no recording is left alone. */
export function gatherChosen(files: Iterable<File>, folder: boolean): Gathered {
  const found = [...files].map((file) => ({ path: folder ? file.webkitRelativePath : file.name, file }));
  return folder ? gathered([], found) : gathered(found, []);
}

/**
 * Files and folders that were dropped. A file dropped by itself is to be marked whatever it is called; of folders, however
 * deep, those that are called like recordings.
 *
 * @param data read before this returns, as the browser empties it after the event
 */
export async function gatherDropped(data: DataTransfer): Promise<Gathered> {
  const entries: FileSystemEntry[] = [];
  const files: Found[] = [];
  for (const item of data.items) {
    const entry = item.kind === "file" ? item.webkitGetAsEntry() : null;
    if (entry?.isDirectory) entries.push(entry);
    else {
      const file = item.getAsFile();
      if (file !== null) files.push({ path: file.name, file });
    }
  }
  const inFolders: Found[] = [];
  for (const entry of entries) await collect(entry, inFolders);
  return gathered(files, inFolders, entries.length > 0);
}

function gathered(
  files: readonly Found[],
  inFolders: readonly Found[],
  folder = inFolders.length > 0,
): Gathered {
  const named = withoutCommonFolder(inFolders);
  return {
    recordings: [...files, ...named.filter(({ path }) => isRecordingName(path))]
      .map(({ path, file }) => ({ name: path, file }))
      .sort((one, other) => byName(one.name, other.name)),
    leftAlone: named
      .map(({ path }) => path)
      .filter((path) => !isRecordingName(path) && !isHidden(path))
      .sort(byName),
    folder,
  };
}

const isHidden = (path: string) => path.split("/").some((part) => part.startsWith("."));

/** Where one folder holds everything, its name says nothing. */
function withoutCommonFolder(found: readonly Found[]): readonly Found[] {
  const [first] = found[0]?.path.split("/") ?? [];
  if (first === undefined || !found.every(({ path }) => path.startsWith(`${first}/`))) return found;
  return found.map(({ path, file }) => ({ path: path.slice(first.length + 1), file }));
}

async function collect(entry: FileSystemEntry, found: Found[]): Promise<void> {
  if (found.length > 10 * MOST_RECORDINGS) return;
  if (isFile(entry)) {
    const file = await new Promise<File>((resolve, reject) => entry.file(resolve, reject));
    found.push({ path: entry.fullPath.replace(/^\//, ""), file });
  } else if (isFolder(entry)) {
    for (const one of await entriesOf(entry)) await collect(one, found);
  }
}

const isFile = (entry: FileSystemEntry): entry is FileSystemFileEntry => entry.isFile;
const isFolder = (entry: FileSystemEntry): entry is FileSystemDirectoryEntry => entry.isDirectory;

/** A browser hands out a hundred or so at a time, and nothing at the end. */
async function entriesOf(folder: FileSystemDirectoryEntry): Promise<readonly FileSystemEntry[]> {
  const reader = folder.createReader();
  const all: FileSystemEntry[] = [];
  for (;;) {
    const some = await new Promise<FileSystemEntry[]>((resolve, reject) =>
      reader.readEntries(resolve, reject),
    );
    if (some.length === 0) return all;
    all.push(...some);
  }
}
