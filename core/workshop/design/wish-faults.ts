import { type BREATHS, type Layout, reedAt } from "../../instrument/layout.ts";
import { noteName } from "../../pitch/note-names.ts";
import { LARGEST_MOST_SEMITONES, noteOfBend } from "./limits.ts";
import { triadsOfWish } from "./triads-wanted.ts";
import { type DesignWish, notesOfScale, scaleName } from "./wish.ts";

/** What makes no sense in a wish, one line each naming the place; none where it can be searched. */
export function wishFaults(wish: DesignWish): readonly string[] {
  const { harp, limits } = wish;
  return [
    ...scaleFaults(wish),
    ...numberFaults(wish),
    ...placeFaults(harp.layout, wish),
    ...triadFaults(wish),
  ].concat(
    typeof limits.order !== "string" && limits.order.length !== harp.layout.holes.length
      ? [
          `the order of draw and blow is said for ${limits.order.length} holes, the layout has ${harp.layout.holes.length}`,
        ]
      : [],
  );
}

function scaleFaults({ scales }: DesignWish): readonly string[] {
  return scales.flatMap((scale) => {
    const range = `${scaleName(scale)} from ${noteName(scale.low)} to ${noteName(scale.high)}`;
    if (scale.low > scale.high) return [`${range}: the first note lies above the last`];
    return notesOfScale(scale).length === 0 ? [`${range}: has no note there`] : [];
  });
}

const isWithin = (value: number, most: number) => Number.isInteger(value) && value >= 0 && value <= most;

function numberFaults({ limits }: DesignWish): readonly string[] {
  const { mostSemitones, mostChanged, reeds } = limits;
  const faults = isWithin(mostSemitones, LARGEST_MOST_SEMITONES)
    ? []
    : [`a reed may move 0 to ${LARGEST_MOST_SEMITONES} whole semitones at most, not ${mostSemitones}`];
  if (mostChanged !== null && !isWithin(mostChanged, 2 * 16))
    faults.push(`the most reeds changed is a whole number from 0 to 32, not ${mostChanged}`);
  for (const { hole, breath, up, down } of reeds)
    if (!isWithin(up, LARGEST_MOST_SEMITONES) || !isWithin(down, LARGEST_MOST_SEMITONES))
      faults.push(
        `${hole} ${breath} may move 0 to ${LARGEST_MOST_SEMITONES} whole semitones, not +${up} and -${down}`,
      );
  return faults;
}

function placeFaults(layout: Layout, { limits }: DesignWish): readonly string[] {
  const lacks = (hole: number, breath: (typeof BREATHS)[number]) => reedAt(layout, hole, breath) === null;
  const reeds = limits.reeds.flatMap(({ hole, breath }) =>
    lacks(hole, breath) ? [`there is no reed ${hole} ${breath} to limit`] : [],
  );
  const chords = limits.chords.flatMap(({ breath, holes }) => {
    const missing = holes.filter((hole) => lacks(hole, breath));
    if (missing.length > 0)
      return [`there is no chord ${holes.join("-")} ${breath} to keep: no reed in ${missing.join(", ")}`];
    return holes.length < 2
      ? [`a chord to keep takes two holes or more, not ${holes.join("-")} ${breath}`]
      : [];
  });
  const bends = limits.bends.flatMap((bend) =>
    noteOfBend(layout, bend) === null
      ? [`${bend.hole} ${bend.breath} does not bend by ${bend.bentSemitones} to begin with`]
      : [],
  );
  return [...reeds, ...chords, ...bends];
}

function triadFaults(wish: DesignWish): readonly string[] {
  const triads = triadsOfWish(wish);
  const names = triads.map(({ numeral, scale }) => `${numeral} of ${scale}`).join(", ");
  return wish.mustHave
    .filter((numeral) => !triads.some((triad) => triad.numeral === numeral))
    .map(
      (numeral) =>
        `there is no major or minor triad ${numeral}; there ${triads.length === 0 ? "is none without a scale" : `are ${names}`}`,
    );
}
