import { useEffect, useRef, useState } from "react";
import type { SaveResult } from "../../electron/bridge.ts";
import type { LongWork } from "../store/history-store.ts";
import { ARCHIVE_TYPE } from "./archive-name.ts";
import { countsInWords } from "./archive-words.ts";
import type { ArchiveWork } from "./archive-work.ts";
import type { Look } from "./look-at-archive.ts";
import { openFile } from "./sink.ts";

/** A file that was looked through. */
export interface LookedAt {
  readonly name: string;
  readonly file: Blob;
  readonly look: Extract<Look, { readonly kind: "archive" }>;
}

export type ArchiveState =
  | { readonly kind: "idle" }
  | { readonly kind: "busy"; readonly words: string; readonly share: number }
  | { readonly kind: "looked"; readonly at: LookedAt }
  | { readonly kind: "said"; readonly words: string }
  | { readonly kind: "trouble"; readonly words: string };

export interface ArchivesSetting {
  readonly work: ArchiveWork;
  /** Of a file saved now. */
  readonly name: () => string;
  readonly onSaved: () => void;
  /** What is kept is another now and everything is to be read again; the words say what was done. */
  readonly onChanged: (words: string) => Promise<void>;
  readonly wipe: () => Promise<void>;
}

/** Saving everything, bringing it in again, and deleting it: one thing at a time, each told and each to be stopped. */
export function useArchives({ work, name, onSaved, onChanged, wipe }: ArchivesSetting) {
  const [state, setState] = useState<ArchiveState>({ kind: "idle" });
  const running = useRef<AbortController | null>(null);
  useEffect(() => () => running.current?.abort(), []);

  /** @param stopped what is said where the player stops it */
  const run = async (
    words: string,
    stopped: string,
    act: (work: LongWork) => Promise<ArchiveState>,
  ): Promise<void> => {
    if (running.current !== null) return;
    const stop = new AbortController();
    running.current = stop;
    const onProgress = (share: number) => setState({ kind: "busy", words, share });
    onProgress(0);
    try {
      setState(await act({ onProgress, signal: stop.signal }));
    } catch (error) {
      setState(stop.signal.aborted ? { kind: "said", words: stopped } : troubleOf(error));
    } finally {
      running.current = null;
    }
  };

  const save = (withTakes: boolean) =>
    run("Saving an archive", "Stopped. No archive was saved.", async (long) => {
      const opened = await openFile(name(), ARCHIVE_TYPE);
      if (opened.kind === "cancelled") return { kind: "idle" };
      if (opened.kind === "failed") return { kind: "trouble", words: opened.reason };
      const saved = await work.save(withTakes, opened.sink, long);
      if (saved.kind === "saved") onSaved();
      return savedState(saved);
    });

  const look = (fileName: string, open: () => Promise<Blob>) =>
    run(`Looking through ${fileName}`, "Stopped. Nothing was changed.", async (long) => {
      const file = await open();
      const seen = await work.look(file, long);
      return seen.kind === "archive"
        ? { kind: "looked", at: { name: fileName, file, look: seen } }
        : { kind: "trouble", words: `${fileName} is ${seen.reason}. Nothing was changed.` };
    });

  const bringIn = (at: LookedAt, theirs: boolean) =>
    run(`Bringing in ${at.name}`, STOPPED_BRINGING, async (long) => {
      const words = countsInWords(await work.bringIn(at.file, { theirs }, long));
      const said = words === null ? "Everything in it was here already." : `Brought in: ${words}.`;
      await onChanged(said);
      return { kind: "said", words: said };
    });

  const deleteAll = () =>
    run("Deleting everything", "", async () => {
      await wipe();
      await onChanged("Everything was deleted.");
      return { kind: "said", words: "Everything was deleted." };
    });

  return {
    state,
    save: (withTakes: boolean) => void save(withTakes),
    look: (fileName: string, open: () => Promise<Blob>) => void look(fileName, open),
    bringIn: (at: LookedAt, theirs: boolean) => void bringIn(at, theirs),
    deleteAll: () => void deleteAll(),
    leave: () => setState({ kind: "idle" }),
    stop: () => running.current?.abort(),
  };
}

export type Archives = ReturnType<typeof useArchives>;

const STOPPED_BRINGING =
  "Stopped. What came in so far is whole and stays; bring the same file in again to go on from there.";

function savedState(saved: SaveResult): ArchiveState {
  switch (saved.kind) {
    case "saved":
      return { kind: "said", words: `Saved: ${saved.name}` };
    case "cancelled":
      return { kind: "idle" };
    case "failed":
      return { kind: "trouble", words: saved.reason };
  }
}

function troubleOf(error: unknown): ArchiveState {
  const words = error instanceof Error ? error.message : String(error);
  return {
    kind: "trouble",
    words: `${words.charAt(0).toUpperCase()}${words.slice(1)}${/[.?!]$/.test(words) ? "" : "."}`,
  };
}
