import { useCallback, useEffect, useRef, useState } from "react";
import type { ReedpathBridge } from "../../electron/bridge.ts";
import { droppedFiles, type Given, type GivenFile, shellFiles } from "./given-file.ts";

interface World {
  /** Null in a plain browser. */
  readonly bridge: Pick<ReedpathBridge, "openedFiles" | "readOpenedFile" | "onAsked"> | null;
  /** Whether a sheet is open that may be listening: nothing leaves it by itself. */
  readonly isOnSheet: boolean;
  /** Whether the room for tunes asks something of the file before. */
  readonly isAsking: boolean;
  readonly onRoom: (kind: "tunes" | "settings") => void;
  /** Resolves once the file was brought in, or asks something. */
  readonly bringTunes: (file: File) => Promise<void>;
  readonly onAbout: () => void;
}

/** Files given to the window from outside, by the shell or dropped on it: opened one after the other, each in its room. */
export function useGivenFiles(world: World) {
  const { bridge, isOnSheet, isAsking } = world;
  const [waiting, setWaiting] = useState<readonly GivenFile[]>([]);
  const [refused, setRefused] = useState<readonly string[]>([]);
  const [archive, setArchive] = useState<GivenFile | null>(null);
  const [isOpening, setOpening] = useState(false);
  const now = useRef(world);
  now.current = world;

  const take = useCallback((given: Given) => {
    setWaiting((before) => [...before, ...given.files]);
    setRefused((before) => [...new Set([...before, ...given.refused])]);
  }, []);
  useShell(bridge, take, now);
  useDrops(take);

  const [first] = waiting;
  useEffect(() => {
    if (first === undefined || isOnSheet || isOpening || isAsking || archive !== null) return;
    setWaiting((before) => before.slice(1));
    if (first.holds === "archive") {
      now.current.onRoom("settings");
      setArchive(first);
      return;
    }
    setOpening(true);
    now.current.onRoom("tunes");
    openTunes(first, now.current.bringTunes)
      .catch((error: unknown) => setRefused((before) => [...before, wordsOf(error)]))
      .finally(() => setOpening(false));
  }, [first, isOnSheet, isOpening, isAsking, archive]);

  return {
    waiting: isOnSheet ? waiting : [],
    refused,
    /** What the settings are to look through; told with `archiveTaken` that they do. */
    archive,
    archiveTaken: useCallback(() => setArchive(null), []),
    openNow: () => now.current.onRoom(first?.holds === "archive" ? "settings" : "tunes"),
    leave: () => {
      for (const file of waiting) file.leave();
      setWaiting([]);
    },
    forgetRefused: () => setRefused([]),
  };
}

export type GivenFiles = ReturnType<typeof useGivenFiles>;

async function openTunes(file: GivenFile, bringTunes: World["bringTunes"]): Promise<void> {
  await bringTunes(new File([await file.open()], file.name));
}

/** What the shell was given before the window began, and from then on. */
function useShell(
  bridge: World["bridge"],
  take: (given: Given) => void,
  now: { readonly current: World },
): void {
  useEffect(() => {
    if (bridge === null) return;
    const collect = () =>
      void bridge.openedFiles().then(
        (opened) => take(shellFiles(opened, bridge)),
        (error: unknown) => take({ files: [], refused: [wordsOf(error)] }),
      );
    collect();
    return bridge.onAsked((what) => (what === "about" ? now.current.onAbout() : collect()));
  }, [bridge, take, now]);
}

/** A file dropped where no part of the screen takes it would lead the browser away from the page. */
function useDrops(take: (given: Given) => void): void {
  useEffect(() => {
    const over = (event: DragEvent) => {
      if (event.dataTransfer?.types.includes("Files") === true) event.preventDefault();
    };
    const drop = (event: DragEvent) => {
      const files = [...(event.dataTransfer?.files ?? [])];
      if (event.defaultPrevented || files.length === 0) return;
      event.preventDefault();
      take(droppedFiles(files));
    };
    window.addEventListener("dragover", over);
    window.addEventListener("drop", drop);
    return () => {
      window.removeEventListener("dragover", over);
      window.removeEventListener("drop", drop);
    };
  }, [take]);
}

/** What the shell says is a whole sentence already. */
const wordsOf = (error: unknown) => (error instanceof Error ? error.message : String(error));
