/** A written note as alignment sees it. */
export interface Written {
  /** Seconds on the take's clock. */
  readonly onSeconds: number;
  readonly lengthSeconds: number;
  /** Fractional MIDI of the target. */
  readonly midi: number;
}

/** A heard note as alignment sees it; `midi` null where no pitch was read. */
export interface Played {
  readonly onSeconds: number;
  readonly midi: number | null;
}

/** Indices into written and played; null on one side for a missed or an extra note. Ascending on both sides. */
export interface Pair {
  readonly written: number | null;
  readonly played: number | null;
}

/** Cost of leaving a written note unanswered, and of a played note answering nothing. */
const MISSED = 1;
const EXTRA = 1;
/** A sound without a readable pitch is easily none at all. */
const UNREAD_EXTRA = 0.3;
/** A wrong pitch costs more than either but less than both, so that a wrong note near its beat is one mistake, not two. */
const WRONG_PITCH = 1.2;
/** A sound without a readable pitch may be the note asked for. */
const UNREAD_PITCH = 0.5;
/** Being off the beat costs at most this, so that the right note far from its beat still counts as played. */
const MOST_FOR_TIME = 1.6;
/** A note as far off the beat as this share of its own length costs 1. */
const TIME_SCALE = 0.6;
const LEAST_TIME_SCALE_SECONDS = 0.08;

/**
 * Pairs written with played notes in order, each used at most once, at least total cost: dynamic programming over
 * matched, wrong, missed and extra notes with a cost for pitch and one for onset (as score following does:
 * Dannenberg 1984 [M]).
 *
 * @param written n >= 0 notes by onset
 * @param played  m >= 0 notes by onset
 * @param rightNoteCents pitch distance up to which a played note is the written one, > 0; the end counts as inside
 * @returns pairs that hold every index of both sides exactly once, in order
 */
export function align(
  written: readonly Written[],
  played: readonly Played[],
  rightNoteCents: number,
): readonly Pair[] {
  const columns = played.length + 1;
  const cost = new Float64Array((written.length + 1) * columns);
  for (let i = 0; i <= written.length; i++) {
    for (let j = 0; j <= played.length; j++) {
      if (i === 0 && j === 0) continue;
      const steps = stepCosts(written, played, i, j, columns, cost, rightNoteCents);
      cost[i * columns + j] = Math.min(steps.pair, steps.missed, steps.extra);
    }
  }
  return traceBack(written, played, columns, cost, rightNoteCents);
}

interface StepCosts {
  readonly pair: number;
  readonly missed: number;
  readonly extra: number;
}

function stepCosts(
  written: readonly Written[],
  played: readonly Played[],
  i: number,
  j: number,
  columns: number,
  cost: Float64Array,
  rightNoteCents: number,
): StepCosts {
  const asked = written[i - 1];
  const heard = played[j - 1];
  const at = (row: number, column: number) => cost[row * columns + column] ?? Number.POSITIVE_INFINITY;
  return {
    pair:
      asked && heard ? at(i - 1, j - 1) + pairCost(asked, heard, rightNoteCents) : Number.POSITIVE_INFINITY,
    missed: asked ? at(i - 1, j) + MISSED : Number.POSITIVE_INFINITY,
    extra: heard ? at(i, j - 1) + extraCost(heard) : Number.POSITIVE_INFINITY,
  };
}

function extraCost(played: Played): number {
  return played.midi === null ? UNREAD_EXTRA : EXTRA;
}

/** Cost of calling a played note the answer to a written one. */
export function pairCost(written: Written, played: Played, rightNoteCents: number): number {
  const scale = Math.max(LEAST_TIME_SCALE_SECONDS, TIME_SCALE * written.lengthSeconds);
  const late = Math.abs(played.onSeconds - written.onSeconds) / scale;
  const time = Math.min(late, MOST_FOR_TIME);
  if (played.midi === null) return UNREAD_PITCH + late;
  const offCents = Math.abs(played.midi - written.midi) * 100;
  // The small term lets a choice between two near pitches fall to the nearer.
  if (offCents <= rightNoteCents) return time + (0.1 * offCents) / rightNoteCents;
  return WRONG_PITCH + late;
}

function traceBack(
  written: readonly Written[],
  played: readonly Played[],
  columns: number,
  cost: Float64Array,
  rightNoteCents: number,
): readonly Pair[] {
  const pairs: Pair[] = [];
  let i = written.length;
  let j = played.length;
  while (i > 0 || j > 0) {
    const steps = stepCosts(written, played, i, j, columns, cost, rightNoteCents);
    const least = Math.min(steps.pair, steps.missed, steps.extra);
    if (steps.pair === least) pairs.push({ written: --i, played: --j });
    else if (steps.missed === least) pairs.push({ written: --i, played: null });
    else pairs.push({ written: null, played: --j });
  }
  return pairs.reverse();
}

/** Total cost of a pairing: what `align` makes least. */
export function alignmentCost(
  pairs: readonly Pair[],
  written: readonly Written[],
  played: readonly Played[],
  rightNoteCents: number,
): number {
  return pairs.reduce((sum, pair) => {
    const asked = pair.written === null ? undefined : written[pair.written];
    const heard = pair.played === null ? undefined : played[pair.played];
    if (asked && heard) return sum + pairCost(asked, heard, rightNoteCents);
    return sum + (heard ? extraCost(heard) : MISSED);
  }, 0);
}
