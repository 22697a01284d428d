import { useEffect, useRef, useState } from "react";
import type { SaveResult } from "../../electron/bridge.ts";
import type { LongWork } from "../store/history-store.ts";

/** How work that takes its time stands, or how it ended. */
export type RunState =
  | { readonly kind: "idle" }
  | { readonly kind: "busy"; readonly words: string; readonly share: number }
  | { readonly kind: "said"; readonly words: string }
  | { readonly kind: "trouble"; readonly words: string };

/**
 * Work that takes its time, one at once: told while it goes on, and to be stopped.
 *
 * @typeParam More other states that work may end in
 */
export function useRun<More = never>() {
  const [state, setState] = useState<RunState | More>({ kind: "idle" });
  const running = useRef<AbortController | null>(null);
  useEffect(() => () => running.current?.abort(), []);

  /**
   * @param words   what goes on: "Saving an archive"
   * @param stopped what is said where the player stops it
   */
  const run = async (
    words: string,
    stopped: string,
    act: (work: LongWork) => Promise<RunState | More>,
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
  return {
    state,
    run: (...args: Parameters<typeof run>) => void run(...args),
    leave: () => setState({ kind: "idle" }),
    stop: () => running.current?.abort(),
  };
}

/** What is said of a file that was saved, or not. */
export function savedState(saved: SaveResult): RunState {
  switch (saved.kind) {
    case "saved":
      return { kind: "said", words: `Saved: ${saved.name}` };
    case "cancelled":
      return { kind: "idle" };
    case "failed":
      return { kind: "trouble", words: saved.reason };
  }
}

function troubleOf(error: unknown): RunState {
  const words = error instanceof Error ? error.message : String(error);
  const end = /[.?!]$/.test(words) ? "" : ".";
  return { kind: "trouble", words: `${words.charAt(0).toUpperCase()}${words.slice(1)}${end}` };
}
