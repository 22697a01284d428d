/** How far a long work has come. */
export interface Progress {
  readonly done: number;
  readonly of: number;
}

/** Runs a work of many steps to its end; who wants to stop it takes the steps himself. */
export function runToEnd<T>(work: Generator<Progress, T>): T {
  for (let step = work.next(); ; step = work.next()) if (step.done === true) return step.value;
}

/** How many choices a search tries before the best found so far is taken, and how many make one step. */
export const MOST_TRIES = 50_000;
export const TRIES_A_STEP = 256;
