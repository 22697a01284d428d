import { type FileKind, fileKindOf, KNOWN_FILES } from "../../core/archive/file-kinds.ts";
import type { OpenedFile, ReedpathBridge } from "../../electron/bridge.ts";

/** A file given to the window from outside. */
export interface GivenFile {
  readonly name: string;
  readonly holds: FileKind;
  /** @throws Error with a sentence where it cannot be read */
  readonly open: () => Promise<Blob>;
  /** Lets it go unread. */
  readonly leave: () => void;
}

/** Files, and a sentence for each that is none of ours. */
export interface Given {
  readonly files: readonly GivenFile[];
  readonly refused: readonly string[];
}

/** Files dropped on the window, told by their names. */
export function droppedFiles(files: readonly File[]): Given {
  const known = files.flatMap((file) => {
    const holds = fileKindOf(file.name);
    return holds === null ? [] : [{ name: file.name, holds, open: async () => file, leave: () => {} }];
  });
  const refused = files
    .filter(({ name }) => fileKindOf(name) === null)
    .map(({ name }) => `${name} was not opened: it is not ${KNOWN_FILES}.`);
  return { files: known, refused };
}

/** Files that the shell was given. */
export function shellFiles(
  opened: readonly OpenedFile[],
  bridge: Pick<ReedpathBridge, "readOpenedFile">,
): Given {
  return {
    files: opened.flatMap((one) =>
      one.kind === "file"
        ? [
            {
              ...one,
              open: () => readOpened(bridge, one.id, one.sizeBytes),
              // Whoever reads beyond the end has read all of it.
              leave: () => void bridge.readOpenedFile(one.id, Number.MAX_SAFE_INTEGER).catch(() => {}),
            },
          ]
        : [],
    ),
    refused: opened.flatMap((one) => (one.kind === "refused" ? [one.reason] : [])),
  };
}

/** A file that grows while it is read is read as far as it was long when it was opened. */
async function readOpened(
  bridge: Pick<ReedpathBridge, "readOpenedFile">,
  id: number,
  sizeBytes: number,
): Promise<Blob> {
  const pieces: Blob[] = [];
  for (let at = 0; ; ) {
    const answer = await bridge.readOpenedFile(id, at);
    if (answer.kind === "failed") throw new Error(answer.reason);
    if (answer.bytes.length === 0) return new Blob(pieces).slice(0, sizeBytes);
    if (at < sizeBytes) pieces.push(new Blob([new Uint8Array(answer.bytes)]));
    at += answer.bytes.length;
  }
}
