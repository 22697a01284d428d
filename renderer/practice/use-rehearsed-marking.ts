import { useEffect } from "react";
import type { Exercise } from "../../core/exercise/exercise.ts";
import { REHEARSALS, rehearseMarking } from "../../core/score/rehearsal.ts";

/** What is rehearsed once stays so for as long as the window is open. */
let left = REHEARSALS;

/**
 * While the sheet waits for the player, rehearses marking in the window's idle moments, so that the first marks come as soon
 * as later ones.
 *
 * @param waiting false while anything sounds, listens or works: then nothing is rehearsed
 */
export function useRehearsedMarking(exercise: Exercise, waiting: boolean): void {
  useEffect(() => {
    // Not every browser tells of idle moments; without them the first marks come a little later.
    if (!waiting || left <= 0 || typeof requestIdleCallback !== "function") return;
    const rehearse = () => {
      left--;
      rehearseMarking(exercise);
      asked = left > 0 ? requestIdleCallback(rehearse) : null;
    };
    let asked: number | null = requestIdleCallback(rehearse);
    return () => {
      if (asked !== null) cancelIdleCallback(asked);
    };
  }, [exercise, waiting]);
}
