import { useState } from "react";
import {
  FIRST_WEIGHTS,
  LARGEST_WEIGHT,
  readWeights,
  WEIGHT_NAMES,
  WEIGHTS,
  type WeightName,
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
  const [refused, setRefused] = useState<{ readonly name: WeightName; readonly reason: string } | null>(null);
  const change = (name: WeightName, value: number) => {
    const changed = readWeights({ ...weights, [name]: value });
    setRefused(changed.kind === "weights" ? null : { name, reason: changed.reason });
    if (changed.kind === "weights") onWeights(changed.weights);
  };
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
                onChange={(value) => change(name, value)}
              />
              {refused?.name === name && (
                <p className="notice" role="alert">
                  {refusedWords(refused.reason)}
                </p>
              )}
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

/** The reason with the names the form has, and that nothing was changed. */
function refusedWords(reason: string): string {
  const named = reason.replace(/\w+/g, (word) => {
    const name = WEIGHT_NAMES.find((one) => one === word);
    return name === undefined ? word : `"${WEIGHTS[name].name}"`;
  });
  return `Not changed: ${named}.`;
}
