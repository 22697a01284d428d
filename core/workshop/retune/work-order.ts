import { type ReedPlace, samePlace } from "../measure/reed-reading.ts";
import { isSmall, type PlannedReed, tunedCents } from "./reed-work.ts";

/**
 * The order reeds are worked on in, the least risk first: what is raised before what is lowered, for metal taken off at the
 * base weakens a reed; about a semitone before more; low reeds, which bear least of it, after all others; within each of
 * these the smaller change first, then from hole 1 up, blow before draw. Common practice, no source; reeds that take
 * another's place are ordered by what is left to tune on them.
 */
export function safestFirst(reeds: readonly PlannedReed[]): readonly PlannedReed[] {
  return reeds
    .filter(({ work }) => work.kind !== "leave")
    .map((reed, place) => ({ reed, place, risk: riskOf(reed), size: sizeOf(reed) }))
    .sort((one, other) => one.risk - other.risk || one.size - other.size || one.place - other.place)
    .map(({ reed }) => reed);
}

/** To a thousandth of a cent, so that changes equal on paper are equal here. */
const sizeOf = (reed: PlannedReed) => Math.round(1000 * Math.abs(tunedOf(reed)));

function riskOf(reed: PlannedReed): number {
  const { work } = reed;
  const change = tunedOf(reed);
  if (work.kind === "lower" && work.mass) return 4;
  return (isSmall(change) ? 0 : 2) + (change < 0 ? 1 : 0);
}

const tunedOf = ({ change, work }: PlannedReed) => tunedCents(change, work);

/** The same order, but reeds that have to agree with another in octave or unison come last. */
export function pairsLast(
  ordered: readonly PlannedReed[],
  paired: readonly ReedPlace[],
): readonly PlannedReed[] {
  const isPaired = ({ change }: PlannedReed) => paired.some((place) => samePlace(place, change));
  return [...ordered.filter((reed) => !isPaired(reed)), ...ordered.filter(isPaired)];
}
