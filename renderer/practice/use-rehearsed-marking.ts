import { useEffect } from "react";
import type { Exercise } from "../../core/exercise/exercise.ts";
import { REHEARSALS } from "../../core/score/rehearsal.ts";
import type { Marking } from "../audio/marking.ts";

/** What is rehearsed once stays so for as long as the window is open. */
let left = REHEARSALS;

/**
 * While the sheet waits for the player, rehearses marking, so that the first marks come as soon as later ones.
 *
 * @param waiting false while anything sounds, listens or works: then nothing is rehearsed
 */
export function useRehearsedMarking(marking: Marking, exercise: Exercise, waiting: boolean): void {
  useEffect(() => {
    let goOn = waiting;
    const next = (): void => {
      if (!goOn || left <= 0) return;
      left--;
      // Who cannot be rehearsed marks a little later, and says then what is wrong.
      marking.rehearse(exercise).then(next, () => {});
    };
    next();
    return () => {
      goOn = false;
    };
  }, [marking, exercise, waiting]);
}
