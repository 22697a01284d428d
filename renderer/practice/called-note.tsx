import type { Exercise } from "../../core/exercise/exercise.ts";
import { useWriting } from "../ui/writing.ts";
import type { PracticeState } from "./practice-state.ts";

interface CalledNoteProps {
  readonly exercise: Exercise;
  readonly state: PracticeState;
}

/** In place of the page: the note asked for, by name, by degree, or only by its sound. */
export function CalledNote({ exercise, state }: CalledNoteProps) {
  const writing = useWriting();
  const called = state.kind === "playing" ? state.calledIndex : null;
  const note = called === null ? undefined : exercise.notes[called];
  return (
    <div className="called">
      <p className="what">{note === undefined ? " " : writing.note(callOf(exercise, note))}</p>
      <p className="soft">
        {exercise.targetAs === "heard"
          ? "Listen, then play what you heard on the next beat. Headphones keep it out of the microphone."
          : "Play it on the next beat."}
      </p>
    </div>
  );
}

function callOf(exercise: Exercise, note: Exercise["notes"][number]): string {
  switch (exercise.targetAs) {
    case "name":
      return note.noteName;
    case "degree":
      return note.degree;
    default:
      return "?";
  }
}
