import type { Attempt, ExtraNote, Mark } from "../../../core/score/attempt.ts";
import type { Place } from "./place.ts";
import type { PlantKind } from "./plants.ts";
import type { PlannedTake } from "./take.ts";

/** What a marker says about one note besides that it is right. */
export interface Accusation {
  readonly index: number;
  readonly name: string;
}

/** What was said of a planted note. */
export interface Named {
  readonly index: number;
  readonly planted: PlantKind;
  /** The planted kind where it was named; else what was said instead, "nothing" where nothing was. */
  readonly named: string;
  readonly right: boolean;
}

export interface Judged {
  readonly named: readonly Named[];
  /** Notes without a plant, and what was said against some of them. */
  readonly clean: number;
  readonly accused: readonly Accusation[];
  /** Clean notes of which a second reed was told in the leaky version. */
  readonly leaksTold: number;
  readonly cleanNotMeasured: number;
}

const NOTHING = "nothing";
const NOT_MEASURED = "not measured";
const NO_NAME = "unknown";
/** An early change of breath is the fault of the note it cuts short, but may be told of the next. */
const TURN: PlantKind = "early breath change";
/** A note too many belongs to a plant if it begins within this of the planted note's time. */
const STRAY_SECONDS = 0.15;
const TUNING_AND_TIME = ["flat", "sharp", "early", "late"];

const TWO_HOLES: PlantKind = "two holes at once";

/** Whether a second reed is told of a right note: in the leaky version that is what was played, and accuses nobody. */
function isLeakTold({ index, name }: Accusation, attempt: Attempt): boolean {
  return name === TWO_HOLES && attempt.marks[index]?.verdict === "hit";
}

/** Sorts what a marker says into what was planted and what was not. */
export function judge(take: PlannedTake, attempt: Attempt, leaky: boolean): Judged {
  const { places } = take.score;
  const planted = places.filter(({ index }) => plantOn(take, index) !== null);
  const isPlanted = new Set(planted.map(({ index }) => index));
  const said = [...attempt.marks.flatMap(markAccusations), ...timeAndTune(attempt)]
    .map((one) => ownerOfTurn(take, one))
    .filter((one) => !isTurnInPlace(take, one));
  const leaks = said.filter(
    (one) => leaky && isLeakTold(one, attempt) && plantOn(take, one.index) !== TWO_HOLES,
  );
  const strays = attempt.extras.map((extra) => ({
    name: nameOfExtra(extra),
    index: ownerOf(planted, extra),
  }));
  const all = [...said.filter((one) => !leaks.includes(one)), ...strays];
  const notMeasured = attempt.marks
    .filter(({ verdict }) => verdict === NOT_MEASURED)
    .map(({ index }) => index);
  return {
    named: planted.map(({ index }) => namedOf(index, plantOn(take, index), all, notMeasured.includes(index))),
    clean: places.length - planted.length,
    accused: all.filter(({ index }) => !isPlanted.has(index)),
    leaksTold: leaks.filter(({ index }) => !isPlanted.has(index)).length,
    cleanNotMeasured: notMeasured.filter((index) => !isPlanted.has(index)).length,
  };
}

const plantOn = ({ performance }: PlannedTake, index: number): PlantKind | null =>
  performance.truths[index]?.plant?.kind ?? null;

function ownerOfTurn(take: PlannedTake, one: Accusation): Accusation {
  const isTold = one.name === TURN && plantOn(take, one.index - 1) === TURN;
  return isTold ? { ...one, index: one.index - 1 } : one;
}

/** Where only the breath changes within a hole, a note that comes early is an early change of breath: both words are true. */
function isTurnInPlace(take: PlannedTake, { index, name }: Accusation): boolean {
  const [before, place] = [take.score.places[index - 1], take.score.places[index]];
  const sameHole = before !== undefined && before.hole === place?.hole && before.breath !== place.breath;
  return name === TURN && plantOn(take, index) === "early" && sameHole;
}

function ownerOf(planted: readonly Place[], { onSeconds, afterIndex }: ExtraNote): number {
  const owner = planted.find(
    (place) =>
      onSeconds > place.onSeconds - STRAY_SECONDS && onSeconds < place.onSeconds + place.lengthSeconds,
  );
  return owner?.index ?? Math.max(0, afterIndex);
}

function markAccusations(mark: Mark): readonly Accusation[] {
  const { index, verdict, diagnosis } = mark;
  if (diagnosis !== null) return [{ index, name: diagnosis.kind }];
  if (verdict === "wrong") return [{ index, name: NO_NAME }];
  return verdict === "missed" ? [{ index, name: "missed" }] : [];
}

function timeAndTune(attempt: Attempt): readonly Accusation[] {
  return attempt.faults
    .filter(({ kind }) => TUNING_AND_TIME.includes(kind))
    .map(({ index, kind }) => ({ index, name: kind }));
}

const nameOfExtra = ({ diagnosis }: ExtraNote) => (diagnosis?.kind === TURN ? TURN : "extra");

/**
 * The fault is named rightly if it is told and no other kind of fault is told with it. Only tuning and time of a note that
 * has a graver fault, and the note too many that an early change of breath really is, may be told besides.
 */
function namedOf(
  index: number,
  planted: PlantKind | null,
  all: readonly Accusation[],
  notMeasured: boolean,
): Named {
  if (planted === null) throw new RangeError(`nothing was planted on note ${index}`);
  const names = [...new Set(all.filter((one) => one.index === index).map(({ name }) => name))];
  if (planted === "ornament") {
    const named = names.length > 0 ? names.join(" + ") : notMeasured ? NOT_MEASURED : NOTHING;
    return { index, planted, named, right: named === NOTHING };
  }
  const grave = !TUNING_AND_TIME.includes(planted);
  const besides = names.filter(
    (name) =>
      name !== planted &&
      !(grave && TUNING_AND_TIME.includes(name)) &&
      !(planted === TURN && name === "extra" && names.includes(TURN)),
  );
  const right = names.includes(planted) && besides.length === 0;
  if (right) return { index, planted, named: planted, right };
  const told = names.filter((name) => name !== planted || besides.length > 0);
  const named = told.length > 0 ? told.join(" + ") : notMeasured ? NOT_MEASURED : NOTHING;
  return { index, planted, named, right };
}
