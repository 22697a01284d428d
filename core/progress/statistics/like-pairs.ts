/** A value of one row at a place. A row is what is compared only with itself; it has one value at a place. */
export interface RowValue {
  readonly row: string;
  /** Days in order, or any other place; need not be even. */
  readonly x: number;
  readonly y: number;
  /** Above 0; as the number of notes it rests on. */
  readonly weight: number;
}

/** Every two places that share a row, compared. */
export interface Compared {
  /** Places that can be compared with another, rising. */
  readonly places: readonly number[];
  /** Rows with more than one place. */
  readonly rows: ReadonlySet<string>;
  /** For each of them, its weight at each of `places`; 0 where it has no value. */
  readonly weights: readonly Float64Array[];
  /** For each place, in the order of `places`. */
  readonly perPlace: readonly PlaceCounts[];
  /** One for every two places that share a row, in the order of the first. */
  readonly pairs: readonly Pair[];
}

/** Two places compared; numbers are those of `places`, the first before the second. */
export interface Pair {
  readonly first: number;
  readonly second: number;
  readonly slope: number;
  /** Which way it goes: 1, -1, or 0 for a difference of nothing. */
  readonly sign: number;
}

/** With how many places one is compared: by where those lie, and by which has the higher value. */
export interface PlaceCounts {
  earlier: number;
  later: number;
  above: number;
  below: number;
}

/** Differences as small are none: sums of the same numbers differ in their last digit. */
const NOTHING = 1e-9;

/** Compares places by the rows they share; each row as heavy as its difference is sure, if a value's variance goes by weight. */
export function compareAll(values: readonly RowValue[]): Compared {
  const rows = comparableRows(values);
  const places = [...new Set([...rows.values()].flatMap((row) => row.map(({ x }) => x)))].sort(
    (a, b) => a - b,
  );
  const { differences, weights } = differencesBetween(rows, places);
  const perPlace = places.map((): PlaceCounts => ({ earlier: 0, later: 0, above: 0, below: 0 }));
  const pairs: Pair[] = [];
  for (const [i, one] of perPlace.entries()) {
    for (let j = i + 1; j < places.length; j++) {
      const [other, weight] = [perPlace[j], weights[i * places.length + j] ?? 0];
      if (other === undefined || weight === 0) continue;
      const difference = (differences[i * places.length + j] ?? 0) / weight;
      const sign = Math.abs(difference) <= NOTHING ? 0 : Math.sign(difference);
      pairs.push({ first: i, second: j, slope: difference / ((places[j] ?? 0) - (places[i] ?? 0)), sign });
      one.later += 1;
      other.earlier += 1;
      if (sign === 0) continue;
      const [higher, lower] = difference > 0 ? [other, one] : [one, other];
      higher.above += 1;
      lower.below += 1;
    }
  }
  return { places, rows: new Set(rows.keys()), weights: weightsOf(rows, places), perPlace, pairs };
}

function weightsOf(
  rows: ReadonlyMap<string, readonly RowValue[]>,
  places: readonly number[],
): readonly Float64Array[] {
  const placeOf = new Map(places.map((x, place) => [x, place]));
  return [...rows.values()].map((row) => {
    const weights = new Float64Array(places.length);
    for (const { x, weight } of row) weights[placeOf.get(x) ?? 0] = weight;
    return weights;
  });
}

/** Weight of a difference between two values of one row; 0 where one of them is not there. */
export const weightOfDifference = (one: number, other: number): number =>
  one === 0 || other === 0 ? 0 : (one * other) / (one + other);

/** Rows with two places or more, by name, each in the order of its places: sums come out the same in whatever order they were given. */
function comparableRows(values: readonly RowValue[]): ReadonlyMap<string, readonly RowValue[]> {
  const rows = new Map<string, RowValue[]>();
  for (const value of values) {
    const known = rows.get(value.row);
    if (known === undefined) rows.set(value.row, [value]);
    else known.push(value);
  }
  return new Map(
    [...rows]
      .filter(([, row]) => row.length > 1)
      .sort(([one], [other]) => (one < other ? -1 : 1))
      .map(([name, row]) => [name, row.sort((a, b) => a.x - b.x)]),
  );
}

/** Weighted sums of differences between places, and their weights; [i * n + j] for place i before place j. */
function differencesBetween(rows: ReadonlyMap<string, readonly RowValue[]>, places: readonly number[]) {
  const n = places.length;
  const placeOf = new Map(places.map((x, place) => [x, place]));
  const [differences, weights] = [new Float64Array(n * n), new Float64Array(n * n)];
  for (const row of rows.values()) {
    for (const [at, one] of row.entries()) {
      const start = n * (placeOf.get(one.x) ?? 0);
      for (let further = at + 1; further < row.length; further++) {
        const other = row[further];
        if (other === undefined) continue;
        const cell = start + (placeOf.get(other.x) ?? 0);
        const weight = weightOfDifference(one.weight, other.weight);
        differences[cell] = (differences[cell] ?? 0) + weight * (other.y - one.y);
        weights[cell] = (weights[cell] ?? 0) + weight;
      }
    }
  }
  return { differences, weights };
}
