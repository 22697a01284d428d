import { useId } from "react";
import type { Exercise } from "../../core/exercise/exercise.ts";
import type { Way } from "../../core/score/attempt.ts";
import { waysOf } from "../../core/score/ways.ts";

interface WayChoiceProps {
  readonly exercise: Exercise;
  readonly way: Way;
  readonly disabled: boolean;
  readonly onWay: (way: Way) => void;
}

/** How the exercise is to be played; nothing where there is only one way. */
export function WayChoice({ exercise, way, disabled, onWay }: WayChoiceProps) {
  const name = useId();
  const ways = waysOf(exercise);
  if (ways.length < 2) return null;
  return (
    <fieldset className="way" disabled={disabled}>
      <legend className="only-read-aloud">How to play it</legend>
      {ways.map((one) => (
        <label key={one}>
          <input type="radio" name={name} checked={one === way} onChange={() => onWay(one)} />
          {one}
        </label>
      ))}
    </fieldset>
  );
}
