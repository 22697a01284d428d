import { useRef, useState } from "react";
import { LIMITS, whyTooLarge } from "../../core/reading/limits.ts";
import { type TuneChoices, tuneFileKind } from "../../core/tune/read-tunes.ts";
import type { TuneStore } from "../store/tune-store.ts";
import type { TuneWork } from "../tunes/tune-work.ts";
import type { AskedFile, Bringing } from "../tunes/tunes-screen.tsx";
import { sentence } from "./use-history.ts";

/** What is shown of the tunes left out of a file. */
const MOST_TOLD = 20;

/** Files of tunes that are brought in, and what has to be asked of them before. */
export function useBringTunes(
  store: TuneStore,
  work: TuneWork,
  refresh: () => Promise<void>,
  onTrouble: (words: string) => void,
) {
  const [bringing, setBringing] = useState<Bringing | null>(null);
  const [asking, setAsking] = useState<AskedFile | null>(null);
  const running = useRef<AbortController | null>(null);

  /** A MIDI file, and a score of several parts or voices, waits for what it does not say itself. */
  const bring = async (file: File) => {
    if (running.current !== null) return;
    const large = whyTooLarge(file.size, LIMITS.tuneFileBytes);
    if (large !== null) throw new Error(large);
    const bytes = new Uint8Array(await file.arrayBuffer());
    setBringing(null);
    const kind = await askedKind(work, bytes);
    if (kind !== null) setAsking({ kind, name: file.name, bytes });
    else await bringIn({ name: file.name, bytes }, {});
  };

  const bringIn = async (file: Pick<AskedFile, "name" | "bytes">, choices: TuneChoices) => {
    setAsking(null);
    if (running.current !== null) return;
    const stop = new AbortController();
    running.current = stop;
    const tell = (done: number, of: number) => setBringing({ name: file.name, done, of, ended: null });
    tell(0, 0);
    try {
      const ended = await importWhole(store, work, { file, choices, signal: stop.signal, tell });
      await refresh();
      setBringing({ name: file.name, done: 0, of: 0, ended });
    } finally {
      running.current = null;
    }
  };

  return {
    bringing,
    asking,
    /** Resolves once the file was brought in, or asks something before. */
    bring: (file: File) =>
      bring(file).catch((error: unknown) => onTrouble(`${file.name}: ${sentence(error)}`)),
    keepAsked: (choices: TuneChoices) => {
      if (asking !== null) void bringIn(asking, choices);
    },
    leaveAsked: () => setAsking(null),
    stopBringing: () => running.current?.abort(),
  };
}

type Ended = NonNullable<Bringing["ended"]>;

interface Import {
  readonly file: Pick<AskedFile, "name" | "bytes">;
  readonly choices: TuneChoices;
  readonly signal: AbortSignal;
  readonly tell: (done: number, of: number) => void;
}

/** All or nothing: what was kept of a file that was stopped goes again, but nothing that was there before. @returns how it ended */
async function importWhole(
  store: TuneStore,
  work: TuneWork,
  { file, choices, signal, tell }: Import,
): Promise<Ended> {
  const added = new Set<string>();
  const leftOut: string[] = [];
  let before: ReadonlySet<string> | null = null;
  try {
    before = new Set((await store.list()).map(({ id }) => id));
    await work.importFile(
      file.name,
      file.bytes,
      choices,
      async (some) => {
        await store.keep(some.tunes);
        for (const { id } of some.tunes) added.add(id);
        leftOut.push(...some.leftOut);
        tell(some.done, some.of);
      },
      signal,
    );
    return endOf(added.size, leftOut);
  } catch (error) {
    const gone = [...added].filter((id) => before?.has(id) === false);
    await store.remove(gone).catch(() => {});
    return { words: signal.aborted ? "Stopped: nothing was brought in." : sentence(error), leftOut: [] };
  }
}

/** What a file has to be asked as; null where it says all itself, or cannot be read. */
async function askedKind(work: TuneWork, bytes: Uint8Array): Promise<AskedFile["kind"] | null> {
  const kind = tuneFileKind(bytes);
  if (kind === "MIDI") return "MIDI";
  if (kind !== "MusicXML" && kind !== "compressed MusicXML") return null;
  const read = await work.score(bytes, {});
  return read.kind === "preview" && read.preview.several ? "score" : null;
}

function endOf(count: number, leftOut: readonly string[]): NonNullable<Bringing["ended"]> {
  const brought = `${count} ${count === 1 ? "tune" : "tunes"} brought in`;
  if (leftOut.length === 0) return { words: `${brought}.`, leftOut };
  const more = leftOut.length - MOST_TOLD;
  return {
    words: `${brought}, ${leftOut.length} left out:`,
    leftOut: more > 0 ? [...leftOut.slice(0, MOST_TOLD), `and ${more} more`] : leftOut,
  };
}
