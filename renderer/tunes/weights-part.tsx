import {
  FIRST_WEIGHTS,
  LARGEST_WEIGHT,
  readWeights,
  WEIGHT_NAMES,
  WEIGHTS,
  type Weights,
} from "../../core/path/weights.ts";
import { NumberChoice } from "../ui/choice.tsx";

interface WeightsPartProps {
  readonly weights: Weights;
  /** Null for the first values. */
  readonly onWeights: (weights: Weights | null) => void;
}

/** What makes a path hard: every weight with its reason, for all tunes. */
export function WeightsPart({ weights, onWeights }: WeightsPartProps) {
  const isFirst = WEIGHT_NAMES.every((name) => weights[name] === FIRST_WEIGHTS[name]);
  return (
    <section className="no-print" aria-label="What makes it hard">
      <h2>What makes it hard</h2>
      <details>
        <summary>{isFirst ? "As the program has it" : "As you have it"}</summary>
        <ul className="weights">
          {WEIGHT_NAMES.map((name) => (
            <li key={name}>
              <NumberChoice
                legend={WEIGHTS[name].name}
                unit={WEIGHTS[name].unit}
                value={weights[name]}
                low={0}
                high={LARGEST_WEIGHT}
                step={0.05}
                onChange={(value) => {
                  const changed = readWeights({ ...weights, [name]: value });
                  if (changed.kind === "weights") onWeights(changed.weights);
                }}
              />
              <p className="soft">
                {WEIGHTS[name].reason} ({WEIGHTS[name].source})
              </p>
            </li>
          ))}
        </ul>
        <button type="button" disabled={isFirst} onClick={() => onWeights(null)}>
          As the program has it
        </button>
      </details>
    </section>
  );
}
