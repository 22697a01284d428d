import { useEffect, useState } from "react";
import type { Exercise } from "../../core/exercise/exercise.ts";
import type { Listening } from "../../core/listen/listening.ts";
import { reedsOfExercise } from "../../core/score/known-reeds.ts";
import type { ListenInWorker } from "../audio/analysis.ts";
import type { HeardTake } from "./practice-state.ts";

export type ListeningAgain =
  | { readonly kind: "listening"; readonly share: number }
  | { readonly kind: "heard"; readonly listening: Listening }
  | { readonly kind: "failed"; readonly words: string };

const BEGUN: ListeningAgain = { kind: "listening", share: 0 };

/**
 * What was heard in a take: as given, else listened to once more off the window's thread, from the moment it is shown
 * until it is no longer.
 */
export function useListening(
  listenInWorker: ListenInWorker,
  exercise: Exercise,
  take: HeardTake,
  given: Listening | null,
): ListeningAgain {
  const [again, setAgain] = useState<{ readonly of: HeardTake; readonly state: ListeningAgain } | null>(null);
  useEffect(() => {
    if (given !== null) return;
    const abort = new AbortController();
    const set = (state: ListeningAgain) => !abort.signal.aborted && setAgain({ of: take, state });
    listenInWorker(take.samples, take.sampleRateHz, {
      known: reedsOfExercise(exercise),
      signal: abort.signal,
      onProgress: (share) => set({ kind: "listening", share }),
    }).then(
      (listening) => set({ kind: "heard", listening }),
      (error: unknown) =>
        set({ kind: "failed", words: error instanceof Error ? error.message : String(error) }),
    );
    return () => abort.abort();
  }, [listenInWorker, exercise, take, given]);
  if (given !== null) return { kind: "heard", listening: given };
  return again?.of === take ? again.state : BEGUN;
}
