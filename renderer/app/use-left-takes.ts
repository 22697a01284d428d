import { useCallback, useEffect, useRef, useState } from "react";
import type { LeftTake, RunningTakes } from "../store/running-take.ts";
import { type MarkLeftServices, markLeftTake } from "./mark-left-take.ts";
import { sentence } from "./use-history.ts";

export interface LeftTakeServices extends MarkLeftServices {
  readonly runningTakes: RunningTakes;
  readonly nowEpochMs: () => number;
}

/** What is done with a take that was cut off. */
export type LeftTakeState =
  | { readonly kind: "offered"; readonly take: LeftTake; readonly trouble: string | null }
  | { readonly kind: "marking"; readonly share: number };

/** Takes that were cut off, the newest first, one at a time. @param version looked for again whenever it is another */
export function useLeftTakes(services: LeftTakeServices, version: unknown, onMarked: (id: string) => void) {
  const { runningTakes, nowEpochMs } = services;
  const [left, setLeft] = useState<readonly LeftTake[]>([]);
  const [share, setShare] = useState<number | null>(null);
  const [trouble, setTrouble] = useState<string | null>(null);
  const stop = useRef<AbortController | null>(null);
  const look = useCallback(
    // Whoever reads the history tells what is wrong with it.
    () => runningTakes.left(nowEpochMs()).then(setLeft, () => setLeft([])),
    [runningTakes, nowEpochMs],
  );
  // biome-ignore lint/correctness/useExhaustiveDependencies: there may be others where the version is another
  useEffect(() => void look(), [look, version]);
  useEffect(() => () => stop.current?.abort(), []);
  const [take] = left;

  const mark = async ({ id }: LeftTake) => {
    const mine = new AbortController();
    stop.current = mine;
    setTrouble(null);
    setShare(0);
    try {
      const kept = await markLeftTake(services, id, { onProgress: setShare, signal: mine.signal });
      if (kept !== null && !mine.signal.aborted) onMarked(kept);
    } catch (error) {
      if (!mine.signal.aborted) setTrouble(sentence(error));
    }
    setShare(null);
    await look();
  };
  const throwAway = async ({ id }: LeftTake) => {
    try {
      setTrouble(null);
      await (await runningTakes.takeOver(id))?.discard();
    } catch (error) {
      setTrouble(sentence(error));
    }
    await look();
  };
  const state: LeftTakeState | null =
    share !== null
      ? { kind: "marking", share }
      : take === undefined
        ? null
        : { kind: "offered", take, trouble };
  return {
    state,
    onMark: () => void (take !== undefined && mark(take)),
    onThrowAway: () => void (take !== undefined && throwAway(take)),
    onStop: () => stop.current?.abort(),
  };
}
