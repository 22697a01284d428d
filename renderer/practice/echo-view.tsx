import type { Exercise } from "../../core/exercise/exercise.ts";
import type { Way } from "../../core/score/attempt.ts";
import type { PracticeState } from "./practice-state.ts";

/** Whether the notes are hidden, as what was heard is being played back from memory. */
export function isHidden(way: Way, state: PracticeState): boolean {
  if (way !== "echo") return false;
  return state.kind === "opening" || state.kind === "playing" || (state.kind === "hearing" && state.thenPlay);
}

interface EchoViewProps {
  readonly exercise: Exercise;
  readonly state: PracticeState;
}

/** In place of the page: whose turn it is, and which bar. */
export function EchoView({ exercise, state }: EchoViewProps) {
  const bar = barOf(exercise, state);
  return (
    <div className="called">
      <p className="what">{state.kind === "playing" ? "Your turn" : "Listen"}</p>
      <p className="soft">{bar ?? " "}</p>
    </div>
  );
}

function barOf({ beatsPerBar, notes }: Exercise, state: PracticeState): string | null {
  const beat = state.kind === "playing" || state.kind === "hearing" ? state.beat : null;
  if (beat === null || beat < 0) return null;
  const end = notes.reduce((latest, note) => Math.max(latest, note.startBeats + note.lengthBeats), 0);
  return `bar ${Math.floor(beat / beatsPerBar) + 1} of ${Math.ceil(end / beatsPerBar - 1e-9)}`;
}
