import { useCallback, useEffect, useRef, useState } from "react";
import { LIMITS, whyTooLarge } from "../../core/reading/limits.ts";
import { type TuneChoices, tuneFileKind } from "../../core/tune/read-tunes.ts";
import { byTitle, type KeptTune, type ListedTune, type TuneStore } from "../store/tune-store.ts";
import { COME_ALONG } from "../tunes/come-along-list.ts";
import type { TuneWork } from "../tunes/tune-work.ts";
import type { AskedFile, Bringing, TuneList } from "../tunes/tunes-screen.tsx";
import { sentence } from "./use-history.ts";

/** What is shown of the tunes left out of a file. */
const MOST_TOLD = 20;

interface Deleted {
  readonly words: string;
  readonly tunes: readonly KeptTune[];
}

/**
 * The tunes there are and what can be done to them.
 *
 * @param isWanted whether a room for tunes is open: nothing is read before one is
 */
export function useTunes(store: TuneStore, work: TuneWork, isWanted: boolean) {
  const [list, setList] = useState<TuneList>({ kind: "loading" });
  const [bringing, setBringing] = useState<Bringing | null>(null);
  const [deleted, setDeleted] = useState<Deleted | null>(null);
  const [trouble, setTrouble] = useState<string | null>(null);
  const [asking, setAsking] = useState<AskedFile | null>(null);
  const stopBringing = useRef<AbortController | null>(null);

  const all = useCallback(async () => together(await store.list()), [store]);

  const refresh = useCallback(async () => {
    try {
      setList({ kind: "tunes", tunes: await all() });
    } catch (error) {
      setList({ kind: "trouble", words: sentence(error) });
    }
  }, [all]);
  useEffect(() => {
    if (isWanted) void refresh();
  }, [refresh, isWanted]);

  const open = useCallback(
    async (id: string): Promise<KeptTune | null> => {
      try {
        return COME_ALONG.find((tune) => tune.id === id) ?? (await store.open(id));
      } catch (error) {
        setTrouble(sentence(error));
        return null;
      }
    },
    [store],
  );

  const texts = useCallback(
    async (ids: readonly string[]): Promise<readonly string[]> => {
      const ours = new Map(COME_ALONG.map(({ id, abc }) => [id, abc]));
      const own = await store.texts(ids.filter((id) => !ours.has(id)));
      return [...ids.flatMap((id) => ours.get(id) ?? []), ...own];
    },
    [store],
  );

  /** A MIDI file, and a score of several parts or voices, waits for what it does not say itself. */
  const bring = async (file: File) => {
    if (stopBringing.current !== null) return;
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
    if (stopBringing.current !== null) return;
    const stop = new AbortController();
    stopBringing.current = stop;
    const before = new Set(
      list.kind === "tunes" ? list.tunes.filter((tune) => !isAlong(tune)).map(({ id }) => id) : [],
    );
    const added = new Set<string>();
    const leftOut: string[] = [];
    const tell = (done: number, of: number) => setBringing({ name: file.name, done, of, ended: null });
    tell(0, 0);
    try {
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
        stop.signal,
      );
      await refresh();
      setBringing({ name: file.name, done: added.size, of: added.size, ended: endOf(added.size, leftOut) });
    } catch (error) {
      // All or nothing: what was kept of a file that was stopped goes again, but nothing that was there before.
      await store.remove([...added].filter((id) => !before.has(id))).catch(() => {});
      const words = stop.signal.aborted ? "Stopped: nothing was brought in." : sentence(error);
      await refresh();
      setBringing({ name: file.name, done: 0, of: 0, ended: { words, leftOut: [] } });
    } finally {
      stopBringing.current = null;
    }
  };

  const settle = (doing: Promise<unknown>): Promise<void> =>
    doing
      .then(
        () => setTrouble(null),
        (error: unknown) => setTrouble(sentence(error)),
      )
      .then(refresh);
  return {
    list,
    bringing,
    deleted: deleted?.words ?? null,
    trouble,
    open,
    /** By title, read from what is kept. */
    all,
    texts,
    asking,
    /** Resolves once the file was brought in, or asks something before. */
    bring: (file: File) =>
      bring(file).catch((error: unknown) => setTrouble(`${file.name}: ${sentence(error)}`)),
    keepAsked: (choices: TuneChoices) => {
      if (asking !== null) void bringIn(asking, choices);
    },
    leaveAsked: () => setAsking(null),
    stopBringing: () => stopBringing.current?.abort(),
    isOwn: (tune: ListedTune) => !isAlong(tune),
    keep: (tune: KeptTune) => settle(store.keep([tune])),
    /** What is set for the old text stays behind with it. */
    replace: (old: string, tune: KeptTune) =>
      settle(store.keep([tune]).then(() => (old === tune.id ? [] : store.remove([old])))),
    remove: (tune: ListedTune) =>
      void settle(
        store.remove([tune.id]).then((tunes) => setDeleted({ words: `Deleted: ${tune.title}`, tunes })),
      ),
    undo: () => {
      if (deleted !== null) void settle(store.keep(deleted.tunes).then(() => setDeleted(null)));
    },
  };
}

/** What a file has to be asked as; null where it says all itself, or cannot be read. */
async function askedKind(work: TuneWork, bytes: Uint8Array): Promise<AskedFile["kind"] | null> {
  const kind = tuneFileKind(bytes);
  if (kind === "MIDI") return "MIDI";
  if (kind !== "MusicXML" && kind !== "compressed MusicXML") return null;
  const read = await work.score(bytes, {});
  return read.kind === "preview" && read.preview.several ? "score" : null;
}

const ALONG_IDS = new Set(COME_ALONG.map(({ id }) => id));
const isAlong = (tune: ListedTune) => ALONG_IDS.has(tune.id);

function together(own: readonly ListedTune[]): readonly ListedTune[] {
  const ours = COME_ALONG.map(({ abc, ...line }) => line);
  return byTitle([...ours, ...own.filter((tune) => !isAlong(tune))]);
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
