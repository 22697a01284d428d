import { type FormEvent, useState } from "react";
import type { Exercise } from "../../core/exercise/exercise.ts";
import type { Attempt } from "../../core/score/attempt.ts";
import { markingOf } from "../../core/score/mark-again.ts";
import { hz, milliseconds } from "../../core/units.ts";
import { NumberChoice } from "../ui/choice.tsx";
import { TemperamentChoice } from "../ui/harp-choice.tsx";
import type { Marking } from "./use-marking.ts";

/** Beside the marks: by what they were made, where that is not as the take was first marked; and what did not work. */
export function MarkedAgainLine({ marking }: { readonly marking: Marking }) {
  const { changed, remarking } = marking;
  return (
    <>
      {changed !== null && <ChangedLine marking={marking} changed={changed} />}
      {remarking.kind === "failed" && (
        <p className="notice" role="alert">
          Marking again did not work: {remarking.words}.
        </p>
      )}
    </>
  );
}

interface ChangedLineProps {
  readonly marking: Marking;
  readonly changed: NonNullable<Marking["changed"]>;
}

function ChangedLine({ marking, changed }: ChangedLineProps) {
  return (
    <p className="notice" role="status">
      Marked again: {changed.words}.{" "}
      {changed.kept
        ? "The history has these marks now. "
        : changed.canKeep
          ? "The history still has the earlier marks. "
          : ""}
      {changed.canKeep && !changed.kept && (
        <button type="button" onClick={marking.keep}>
          Keep these instead
        </button>
      )}{" "}
      <button type="button" onClick={marking.goBack}>
        Back to the earlier marks
      </button>
    </p>
  );
}

interface MarkAgainProps {
  readonly marking: Marking;
  readonly exercise: Exercise;
  readonly attempt: Attempt;
}

const MOST_DELAY_MS = 1000;

/** Marks the take by another tuning of the harp or another delay of the sound. */
export function MarkAgain({ marking, exercise, attempt }: MarkAgainProps) {
  const now = markingOf(exercise, attempt);
  const [wanted, setWanted] = useState(now);
  const [own] = useState(now.temperament);
  const { remarking } = marking;
  const submit = (event: FormEvent) => {
    event.preventDefault();
    marking.markBy(wanted);
  };
  return (
    <details>
      <summary>Mark again with other settings</summary>
      <form className="mark-again" onSubmit={submit}>
        <TemperamentChoice
          temperament={wanted.temperament}
          own={own}
          onChange={(temperament) => setWanted({ ...wanted, temperament })}
        />
        <NumberChoice
          legend="The harp's A"
          unit="Hz"
          value={wanted.a4}
          low={400}
          high={480}
          step={0.5}
          onChange={(a4) => setWanted({ ...wanted, a4: hz(a4) })}
        />
        <NumberChoice
          legend="Delay of the sound"
          unit="ms"
          value={wanted.latencyMs}
          low={-MOST_DELAY_MS}
          high={MOST_DELAY_MS}
          step={1}
          onChange={(latency) => setWanted({ ...wanted, latencyMs: milliseconds(latency) })}
        />
        <button type="submit" disabled={remarking.kind === "working"}>
          Mark again
        </button>
        {remarking.kind === "working" && (
          <progress aria-label="Marking the take again" value={remarking.share} max={1} />
        )}
      </form>
    </details>
  );
}
