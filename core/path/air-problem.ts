import type { ReedAction } from "../instrument/reed-actions.ts";
import { type AirStep, afterNote, airSteps, evened, excessCost } from "./air.ts";
import { noteCost, stepCost } from "./cost.ts";
import type { Line } from "./line.ts";
import type { ReedChoices } from "./reed-choices.ts";
import type { Weights } from "./weights.ts";

/** Air is counted this finely, and coarser in lines of more than 50 s, so that a thousand steps span them. */
const FINEST_GRID_SECONDS = 0.05;
const MOST_GRID_STEPS = 1000;

/** Seconds of one step in which the air of a line is counted. */
export function gridOf(line: Line): number {
  const last = line.at(-1);
  const whole = last === undefined ? 0 : last.startSeconds + last.lengthSeconds;
  return Math.max(FINEST_GRID_SECONDS, whole / MOST_GRID_STEPS);
}

export interface GridStep extends AirStep {
  /** As `evensSeconds` and `lengthSeconds`, in steps of the grid. */
  readonly evens: number;
  readonly length: number;
}

/** Beginnings and ends are rounded, not lengths: so the errors of notes in a row do not add up. */
export function gridSteps(
  line: Line,
  isSounded: (note: number) => boolean,
  weights: Weights,
  gridSeconds: number,
): readonly GridStep[] {
  return airSteps(line, isSounded, weights).map((step) => {
    const start = line[step.note]?.startSeconds ?? 0;
    const end = start + step.lengthSeconds;
    const length = Math.round(end / gridSeconds) - Math.round(start / gridSeconds);
    return { ...step, evens: Math.round(step.evensSeconds / gridSeconds), length };
  });
}

/** A sounded note, with everything its cost depends on. */
export interface AirPlace extends GridStep {
  readonly choice: number;
  readonly actions: readonly ReedAction[];
  /** By action: what sounding it costs. */
  readonly own: Float64Array;
  /** By action before times number of actions plus action: what coming to it costs; empty for the first. */
  readonly moves: Float64Array;
}

/** A line as choices of reed actions with the cost of effort and of air, all of it worked out beforehand. */
export interface AirProblem {
  readonly places: readonly AirPlace[];
  /** By choice: its values that are not ruled out by a pin. */
  readonly free: readonly (readonly number[])[];
  readonly weights: Weights;
  readonly gridSeconds: number;
}

export function airProblem(line: Line, choices: ReedChoices, weights: Weights): AirProblem {
  const gridSeconds = gridOf(line);
  const steps = gridSteps(line, (note) => (choices.choiceOf[note] ?? null) !== null, weights, gridSeconds);
  const places: AirPlace[] = [];
  for (const step of steps) {
    const choice = choices.choiceOf[step.note] ?? 0;
    const actions = choices.actions[choice] ?? [];
    const moves = movesTo(line, places.at(-1), step.note, actions, weights);
    const own = Float64Array.from(actions, (action) => ownCost(line, step.note, action, weights));
    places.push({ ...step, choice, actions, own, moves });
  }
  const free = choices.actions.map((actions, choice) => {
    const pinned = choices.pinned[choice] ?? null;
    return pinned === null ? [...actions.keys()] : [pinned];
  });
  return { places, free, weights, gridSeconds };
}

function ownCost(line: Line, index: number, action: ReedAction, weights: Weights): number {
  const note = line[index];
  return note === undefined ? 0 : noteCost(note, line[index + 1] ?? null, action, weights);
}

function movesTo(
  line: Line,
  before: AirPlace | undefined,
  index: number,
  actions: readonly ReedAction[],
  weights: Weights,
): Float64Array {
  const [from, to] = [line[before?.note ?? -1], line[index]];
  if (before === undefined || from === undefined || to === undefined) return new Float64Array();
  return Float64Array.from(
    before.actions.flatMap((one) => actions.map((other) => stepCost(from, to, one, other, weights))),
  );
}

/** What a way to play all choices costs, effort and air together. */
export function totalCost({ places, weights, gridSeconds }: AirProblem, values: ArrayLike<number>): number {
  let [air, cost, before] = [0, 0, 0];
  for (const place of places) {
    const value = values[place.choice] ?? 0;
    const breath = place.actions[value]?.breath ?? "blow";
    air = afterNote(evened(air, place.evens), breath, place.length);
    cost += (place.own[value] ?? 0) + (place.moves[before * place.actions.length + value] ?? 0);
    cost += excessCost(air * gridSeconds, place.lengthSeconds, weights);
    before = value;
  }
  return cost;
}
