import type { Harp } from "../instrument/harp.ts";
import type { ReedAction } from "../instrument/reed-actions.ts";
import { type AirStep, afterNote, airSteps, evened, excessCost } from "./air.ts";
import { type BreathPath, breathPath, eachByItself, type PathOptions, weightsOf } from "./breath-path.ts";
import { noteCost, pathCost, stepCost } from "./cost.ts";
import type { Line } from "./line.ts";
import type { ReedChoices } from "./reed-choices.ts";
import type { Weights } from "./weights.ts";

export interface EvenedPath extends BreathPath {
  /** What air beyond the comfortable adds to `cost`, counted in steps of `gridSeconds`. */
  readonly airCost: number;
  readonly gridSeconds: number;
}

/** Air is counted this finely, and coarser in lines of more than 50 s, so that a thousand steps span them. */
const FINEST_GRID_SECONDS = 0.05;
const MOST_GRID_STEPS = 1000;

/**
 * A path that keeps the air near the middle: `pathCost` plus `airCost` is least. Dynamic programming over note, reed action
 * and air in steps of `gridSeconds`: exact for air so counted. Where the same bar comes again the air differs, so each note
 * is chosen by itself and repeats may be played otherwise; pins hold for all notes that are played alike.
 */
export function evenedPath(line: Line, harp: Harp, options: PathOptions = {}): EvenedPath {
  const weights = weightsOf(options);
  const base = breathPath(line, harp, options);
  const choices = eachByItself(line, harp, options);
  const gridSeconds = gridOf(line);
  const steps = gridSteps(line, (note) => (choices.choiceOf[note] ?? null) !== null, weights, gridSeconds);
  const actions = new AirSearch(line, choices, steps, weights, gridSeconds).cheapest();
  return {
    ...base,
    actions,
    cost: pathCost(line, actions, weights),
    airCost: airCost(line, actions, weights, gridSeconds),
    gridSeconds,
    lostPins: choices.lostPins,
    playedAlike: false,
  };
}

/** What the air along a path costs, with every time rounded to the grid. */
export function airCost(
  line: Line,
  actions: readonly (ReedAction | null)[],
  weights: Weights,
  gridSeconds: number,
): number {
  let [air, cost] = [0, 0];
  for (const step of gridSteps(line, (note) => (actions[note] ?? null) !== null, weights, gridSeconds)) {
    air = afterNote(evened(air, step.evens), actions[step.note]?.breath ?? "blow", step.length);
    cost += excessCost(air * gridSeconds, step.lengthSeconds, weights);
  }
  return cost;
}

function gridOf(line: Line): number {
  const last = line.at(-1);
  const whole = last === undefined ? 0 : last.startSeconds + last.lengthSeconds;
  return Math.max(FINEST_GRID_SECONDS, whole / MOST_GRID_STEPS);
}

interface GridStep extends AirStep {
  /** As `evensSeconds` and `lengthSeconds`, in steps of the grid. */
  readonly evens: number;
  readonly length: number;
}

/** Beginnings and ends are rounded, not lengths: so the errors of notes in a row do not add up. */
function gridSteps(
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

/** Where a least cost came from: the action before, and the air after it. */
interface Trace {
  readonly action: Uint8Array;
  readonly air: Int16Array;
}

/** Least cost by reed action of the last note and air after it, note by note. */
class AirSearch {
  private readonly most: number;
  private readonly traces: (readonly Trace[])[] = [];

  constructor(
    private readonly line: Line,
    private readonly choices: ReedChoices,
    private readonly steps: readonly GridStep[],
    private readonly weights: Weights,
    private readonly gridSeconds: number,
  ) {
    this.most = steps.reduce((sum, step) => sum + step.length, 0);
  }

  cheapest(): readonly (ReedAction | null)[] {
    let costs: readonly Float64Array[] = [this.noCosts()];
    const start = costs[0];
    if (start !== undefined) start[this.most] = 0;
    for (const place of this.steps.keys()) costs = this.goOn(place, costs);
    return this.follow(costs);
  }

  private goOn(place: number, before: readonly Float64Array[]): readonly Float64Array[] {
    const step = this.steps[place];
    if (step === undefined) return before;
    const traces: Trace[] = [];
    const result = this.able(place).map((action) => {
      const costs = this.noCosts();
      const trace = { action: new Uint8Array(costs.length), air: new Int16Array(costs.length) };
      for (const [from, sums] of before.entries()) {
        const fixed = this.fixedCost(place, from, action);
        for (const [index, sum] of sums.entries()) {
          if (sum === Number.POSITIVE_INFINITY) continue;
          const air = afterNote(evened(index - this.most, step.evens), action.breath, step.length);
          const cost = sum + fixed + excessCost(air * this.gridSeconds, step.lengthSeconds, this.weights);
          const to = air + this.most;
          if (cost >= (costs[to] ?? 0)) continue;
          costs[to] = cost;
          trace.action[to] = from;
          trace.air[to] = index - this.most;
        }
      }
      traces.push(trace);
      return costs;
    });
    this.traces.push(traces);
    return result;
  }

  /** What sounding a note costs, and coming to it from the one before, whatever the air. */
  private fixedCost(place: number, from: number, action: ReedAction): number {
    const index = this.steps[place]?.note ?? 0;
    const note = this.line[index];
    const before = this.line[this.steps[place - 1]?.note ?? -1];
    const earlier = place === 0 ? undefined : this.able(place - 1)[from];
    if (note === undefined) return 0;
    const own = noteCost(note, this.line[index + 1] ?? null, action, this.weights);
    return before === undefined || earlier === undefined
      ? own
      : own + stepCost(before, note, earlier, action, this.weights);
  }

  private follow(last: readonly Float64Array[]): readonly (ReedAction | null)[] {
    const actions = new Array<ReedAction | null>(this.line.length).fill(null);
    let [way, air, least] = [0, this.most, Number.POSITIVE_INFINITY];
    for (const [action, costs] of last.entries())
      for (const [index, cost] of costs.entries())
        if (cost < least) [way, air, least] = [action, index, cost];
    for (let place = this.steps.length - 1; place >= 0; place--) {
      actions[this.steps[place]?.note ?? 0] = this.able(place)[way] ?? null;
      const trace = this.traces[place]?.[way];
      [way, air] = [trace?.action[air] ?? 0, (trace?.air[air] ?? 0) + this.most];
    }
    return actions;
  }

  /** The reed actions of a note, or the pinned one. */
  private able(place: number): readonly ReedAction[] {
    const choice = this.choices.choiceOf[this.steps[place]?.note ?? 0] ?? -1;
    const actions = this.choices.actions[choice] ?? [];
    const pinned = this.choices.pinned[choice] ?? null;
    return pinned === null ? actions : actions.slice(pinned, pinned + 1);
  }

  private noCosts(): Float64Array {
    return new Float64Array(2 * this.most + 1).fill(Number.POSITIVE_INFINITY);
  }
}
