/** How far a long work has come. */
export interface Progress {
  readonly done: number;
  readonly of: number;
}

/** Runs a work of many steps to its end; who wants to stop it takes the steps himself. */
export function runToEnd<T>(work: Generator<Progress, T>): T {
  for (let step = work.next(); ; step = work.next()) if (step.done === true) return step.value;
}
