/** Which players of each condition one worker asks. */
export interface Share {
  readonly seed: number;
  readonly players: number;
  readonly worker: number;
  readonly workers: number;
}

/** Seeds of this worker's players: every condition has players of its own. */
export function* seedsOf({ seed, players, worker, workers }: Share, place: number): Generator<number> {
  for (let player = worker; player < players; player += workers)
    yield seed * 1_000_003 + place * 100_003 + player * 7919;
}
