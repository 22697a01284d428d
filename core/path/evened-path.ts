import type { Harp } from "../instrument/harp.ts";
import type { ReedAction } from "../instrument/reed-actions.ts";
import { afterNote, evened, excessCost } from "./air.ts";
import { type AirProblem, airProblem, gridOf, gridSteps } from "./air-problem.ts";
import { abilitiesOf, type BreathPath, breathPath, type PathOptions, weightsOf } from "./breath-path.ts";
import { pathCost } from "./cost.ts";
import { LeastCostSolver } from "./least-cost.ts";
import type { Line } from "./line.ts";
import { type ReedChoices, reedChoices } from "./reed-choices.ts";
import { tiedLeast } from "./tied-search.ts";
import type { Weights } from "./weights.ts";

export interface EvenedPath extends BreathPath {
  /** What air beyond the comfortable adds to `cost`, counted in steps of `gridSeconds`. */
  readonly airCost: number;
  readonly gridSeconds: number;
}

/**
 * A path that keeps the air near the middle: `pathCost` plus `airCost` is least among the paths that play alike what is one
 * choice, as `breathPath` does. Exact for air so counted where `proved`; else the best found.
 */
export function evenedPath(line: Line, harp: Harp, options: PathOptions = {}): EvenedPath {
  const weights = weightsOf(options);
  const base = breathPath(line, harp, options);
  const choices = reedChoices(line, harp, {
    abilities: abilitiesOf(options),
    weights,
    pins: options.pins ?? [],
  });
  const problem = airProblem(line, choices, weights);
  const tied = tiedLeast(problem, startsOf(problem, choices));
  const actions = choices.choiceOf.map((choice) =>
    choice === null ? null : (choices.actions[choice]?.[tied.values[choice] ?? 0] ?? null),
  );
  return {
    ...base,
    actions,
    cost: pathCost(line, actions, weights),
    airCost: airCost(line, actions, weights, problem.gridSeconds),
    gridSeconds: problem.gridSeconds,
    lostPins: choices.lostPins,
    playedAlike: true,
    proved: tied.proved,
  };
}

/** Prices of a second of drawing, in efforts: paths that draw more, or less, than the cheapest does. */
const PRICES = [0, 0.1, -0.1, 0.3, -0.3, 1, -1];

/** Ways to begin the search from: the cheapest at several prices of drawing. */
function startsOf(
  { places, free }: AirProblem,
  { costs, actions }: ReedChoices,
): readonly (readonly number[])[] {
  const drawn = costs.alone.map((alone) => new Float64Array(alone.length));
  for (const { choice, lengthSeconds } of places)
    for (const [value, action] of (actions[choice] ?? []).entries()) {
      const its = drawn[choice];
      if (its !== undefined) its[value] = (its[value] ?? 0) + afterNote(0, action.breath, lengthSeconds);
    }
  const priced = PRICES.flatMap((price) => {
    const alone = costs.alone.map((its, choice) =>
      its.map((cost, value) => cost + price * (drawn[choice]?.[value] ?? 0)),
    );
    const solver = LeastCostSolver.of({ ...costs, alone });
    return solver === null ? [] : [solver.least().values];
  });
  const first = free.map((values) => values[0] ?? 0);
  // A price may outweigh a pin's charge.
  const held = priced.map((values) =>
    values.map((value, choice) => (free[choice]?.includes(value) ? value : (first[choice] ?? 0))),
  );
  return [...held, first];
}

/** What the air along a path costs, with every time rounded to the grid. */
export function airCost(
  line: Line,
  actions: readonly (ReedAction | null)[],
  weights: Weights,
  gridSeconds: number = gridOf(line),
): number {
  let [air, cost] = [0, 0];
  for (const step of gridSteps(line, (note) => (actions[note] ?? null) !== null, weights, gridSeconds)) {
    air = afterNote(evened(air, step.evens), actions[step.note]?.breath ?? "blow", step.length);
    cost += excessCost(air * gridSeconds, step.lengthSeconds, weights);
  }
  return cost;
}
