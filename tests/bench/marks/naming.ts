import type { Attempt, ExtraNote, Mark } from "../../../core/score/attempt.ts";
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
export function judge({ score, performance }: PlannedTake, attempt: Attempt, leaky: boolean): Judged {
  const notMeasured = new Set(
    attempt.marks.filter((mark) => mark.verdict === NOT_MEASURED).map((mark) => mark.index),
  );
  const planted = score.places.filter((_, at) => performance.truths[at]?.plant !== null);
  const accusations = [...attempt.marks.flatMap(markAccusations), ...timeAndTune(attempt)].map((one) => {
    const owner = planted.find(({ index }) => index === one.index - 1);
    const isTurn =
      one.name === TURN && owner !== undefined && performance.truths[owner.index]?.plant?.kind === TURN;
    return isTurn ? { ...one, index: owner.index } : one;
  });
  const strays = attempt.extras.map((extra) => ({
    name: nameOfExtra(extra),
    index:
      planted.find(
        ({ onSeconds, lengthSeconds }) =>
          extra.onSeconds > onSeconds - STRAY_SECONDS && extra.onSeconds < onSeconds + lengthSeconds,
      )?.index ?? Math.max(0, extra.afterIndex),
  }));
  const leaks = accusations.filter(
    (one) => leaky && isLeakTold(one, attempt) && performance.truths[one.index]?.plant?.kind !== TWO_HOLES,
  );
  const all = [...accusations.filter((one) => !leaks.includes(one)), ...strays];
  const ownIndexes = new Set(planted.map(({ index }) => index));
  const named = planted.map(({ index }) =>
    namedOf(index, performance.truths[index]?.plant?.kind, all, notMeasured.has(index)),
  );
  return {
    named,
    clean: score.places.length - planted.length,
    accused: all.filter(({ index }) => !ownIndexes.has(index)),
    leaksTold: leaks.filter(({ index }) => !ownIndexes.has(index)).length,
    cleanNotMeasured: [...notMeasured].filter((index) => !ownIndexes.has(index)).length,
  };
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
  planted: PlantKind | undefined,
  all: readonly Accusation[],
  notMeasured: boolean,
): Named {
  if (planted === undefined) throw new RangeError(`nothing was planted on note ${index}`);
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
