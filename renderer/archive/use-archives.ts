import { ARCHIVE_TYPE } from "./archive-name.ts";
import { countsInWords } from "./archive-words.ts";
import type { ArchiveWork } from "./archive-work.ts";
import type { Brought } from "./bring-in.ts";
import type { Look } from "./look-at-archive.ts";
import { openFile } from "./sink.ts";
import { savedState, useRun } from "./use-run.ts";

/** A file that was looked through. */
export interface LookedAt {
  readonly name: string;
  readonly file: Blob;
  readonly look: Extract<Look, { readonly kind: "archive" }>;
}

interface Looked {
  readonly kind: "looked";
  readonly at: LookedAt;
}

export interface ArchivesSetting {
  readonly work: ArchiveWork;
  /** Of a file saved now. */
  readonly name: () => string;
  /** Notes that there is an archive of everything; never rejects. */
  readonly onSaved: () => Promise<void>;
  /** What is kept is another now and everything is to be read again; the words say what was done. */
  readonly onChanged: (words: string) => Promise<void>;
  readonly wipe: () => Promise<void>;
}

/** Saving everything, bringing it in again, and deleting it. */
export function useArchives({ work, name, onSaved, onChanged, wipe }: ArchivesSetting) {
  const { state, run, leave, stop } = useRun<Looked>();
  return {
    state,
    leave,
    stop,
    save: (withTakes: boolean) =>
      run("Saving an archive", "Stopped. No archive was saved.", async (long) => {
        const opened = await openFile(name(), ARCHIVE_TYPE);
        if (opened.kind !== "open") return savedState(opened);
        const saved = await work.save(withTakes, opened.sink, long);
        if (saved.kind === "saved") await onSaved();
        return savedState(saved);
      }),
    look: (fileName: string, open: () => Promise<Blob>) =>
      run(`Looking through ${fileName}`, "Stopped. Nothing was changed.", async (long) => {
        const file = await open();
        const look = await work.look(file, long);
        return look.kind === "archive"
          ? { kind: "looked", at: { name: fileName, file, look } }
          : { kind: "trouble", words: `${fileName} is ${look.reason}. Nothing was changed.` };
      }),
    bringIn: (at: LookedAt, theirs: boolean) =>
      run(`Bringing in ${at.name}`, STOPPED_BRINGING, async (long) => {
        const said = await work.bringIn(at.file, { theirs }, long).then(broughtInWords, (error: unknown) => {
          if (long.signal?.aborted !== true) throw error;
          return STOPPED_BRINGING;
        });
        await onChanged(said);
        return { kind: "said", words: said };
      }),
    deleteAll: () =>
      run("Deleting everything", "", async () => {
        await wipe();
        await onChanged("Everything was deleted.");
        return { kind: "idle" };
      }),
  };
}

export type Archives = ReturnType<typeof useArchives>;

function broughtInWords(brought: Brought): string {
  const words = countsInWords(brought);
  return words === null ? "Everything in it was here already." : `Brought in: ${words}.`;
}

const STOPPED_BRINGING =
  "Stopped. What came in so far is whole and stays; bring the same file in again to go on from there.";
