/** Which players of each condition one worker asks. */
export interface Share {
  readonly seed: number;
  readonly players: number;
  readonly worker: number;
  readonly workers: number;
  /** Tables to make; all where empty. */
  readonly parts: readonly string[];
  /** Rows to ask, every one of all players; where empty, all rows, some of fewer players. */
  readonly rows: readonly string[];
}

/** Share of the players a row is asked of; none where it is not to be asked. */
export const shareOfRow = ({ rows }: Pick<Share, "rows">, name: string, usual: number): number =>
  rows.length === 0 ? usual : Number(rows.includes(name));

/** Seeds of this worker's players: every condition has players of its own. */
export function* seedsOf(
  { seed, players, worker, workers }: Share,
  place: number,
  share: number,
): Generator<number> {
  const asked = Math.ceil(players * share);
  for (let player = worker; player < asked; player += workers)
    yield seed * 1_000_003 + place * 100_003 + player * 7919;
}
