import { afterNote, evened, excessCost } from "./air.ts";
import type { AirPlace, AirProblem } from "./air-problem.ts";

/** The cheapest way to play a line if every note may be chosen by itself. */
export interface Untied {
  readonly cost: number;
  /** By place: the value of its choice. */
  readonly values: Int32Array;
}

/** Least costs behind a place, by value of its choice and by air; the air lies from `low` on. */
interface Front {
  readonly low: number;
  readonly width: number;
  /** Values of the choice, and for each a row of `width` costs. */
  readonly values: readonly number[];
  readonly costs: Float64Array;
  /** Row and air before, in one number; -1 where nothing leads. */
  readonly from: Int32Array;
}

/**
 * Dynamic programming over place, reed action and air in steps of the grid: exact for air so counted where each note is chosen
 * by itself, and so a lower bound of what it costs to play like notes alike.
 *
 * @param allowed by choice: the values that may be taken, at least one
 */
export function untiedLeast(problem: AirProblem, allowed: readonly (readonly number[])[]): Untied {
  const fronts: Front[] = [];
  let front: Front = { low: 0, width: 1, values: [0], costs: new Float64Array(1), from: new Int32Array(1) };
  for (const place of problem.places) {
    front = goOn(problem, place, allowed[place.choice] ?? [], front);
    fronts.push(front);
  }
  return follow(fronts, problem.places.length);
}

function goOn(problem: AirProblem, place: AirPlace, values: readonly number[], before: Front): Front {
  const low = Math.min(0, before.low + place.evens) - place.length;
  const high = Math.max(0, before.low + before.width - 1 - place.evens) + place.length;
  const width = high - low + 1;
  const costs = new Float64Array(values.length * width).fill(Number.POSITIVE_INFINITY);
  const from = new Int32Array(costs.length).fill(-1);
  const excess = excessBy(problem, place, low, width);
  for (const [row, value] of values.entries()) {
    const breath = place.actions[value]?.breath ?? "blow";
    for (const [earlier, earlierValue] of before.values.entries()) {
      const fixed = (place.own[value] ?? 0) + (place.moves[earlierValue * place.actions.length + value] ?? 0);
      for (let index = 0; index < before.width; index++) {
        const sum = before.costs[earlier * before.width + index] ?? Number.POSITIVE_INFINITY;
        if (sum === Number.POSITIVE_INFINITY) continue;
        const air = afterNote(evened(index + before.low, place.evens), breath, place.length) - low;
        const cost = sum + fixed + (excess[air] ?? 0);
        const to = row * width + air;
        if (cost >= (costs[to] ?? 0)) continue;
        costs[to] = cost;
        from[to] = earlier * before.width + index;
      }
    }
  }
  return { low, width, values, costs, from };
}

function excessBy(
  { gridSeconds, weights }: AirProblem,
  place: AirPlace,
  low: number,
  width: number,
): Float64Array {
  return Float64Array.from({ length: width }, (_, index) =>
    excessCost((index + low) * gridSeconds, place.lengthSeconds, weights),
  );
}

function follow(fronts: readonly Front[], count: number): Untied {
  const values = new Int32Array(count);
  const last = fronts.at(-1);
  if (last === undefined) return { cost: 0, values };
  let way = 0;
  for (const [index, cost] of last.costs.entries()) if (cost < (last.costs[way] ?? 0)) way = index;
  const cost = last.costs[way] ?? 0;
  for (let place = count - 1; place >= 0; place--) {
    const front = fronts[place];
    if (front === undefined) break;
    values[place] = front.values[Math.floor(way / front.width)] ?? 0;
    way = front.from[way] ?? 0;
  }
  return { cost, values };
}
