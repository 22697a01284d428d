import type { Exercise } from "../../core/exercise/exercise.ts";
import { spellingOf } from "../../core/pitch/modes.ts";
import { playInWords } from "../ui/breath-words.ts";
import { HarpPicture } from "../ui/harp-picture.tsx";
import type { PracticeState } from "./practice-state.ts";

interface NextActionProps {
  readonly exercise: Exercise;
  readonly state: PracticeState;
  /** Whether the harp must not give the note away. */
  readonly hidden: boolean;
}

/** Where to go: the harp with the next action marked, and the same in words. */
export function NextAction({ exercise, state, hidden }: NextActionProps) {
  const index = hidden ? null : nextIndex(exercise, state);
  const next = index === null ? null : (exercise.notes[index] ?? null);
  return (
    <div className="next-action">
      <HarpPicture
        harp={exercise.harp}
        spelling={spellingOf(exercise.home, exercise.mode)}
        next={next?.action ?? null}
        chord={next?.chord}
      />
      <p aria-hidden="true">{next === null ? "" : playInWords(next)}</p>
    </div>
  );
}

/** While a note sounds the harp already shows the one after it: the player has to move there. */
function nextIndex(exercise: Exercise, state: PracticeState): number | null {
  // Where the player has to find the note, the harp must not give it away.
  if (exercise.targetAs !== undefined && state.kind !== "marked") return null;
  if (state.kind === "playing" && state.noteIndex !== null) return state.noteIndex + 1;
  return state.kind === "hearing" ? (state.noteIndex ?? 0) : 0;
}
