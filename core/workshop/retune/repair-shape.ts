import * as v from "valibot";
import { harpShape } from "../../instrument/harp-shape.ts";
import { MOST_HOLES } from "../../instrument/layout.ts";
import { readPracticeDay } from "../../progress/practice-day.ts";
import { MOST_OFF_CENTS } from "./measured-harp.ts";
import { LEAST_PASSES, MOST_PASSES } from "./passes.ts";
import { LIMIT_BOUNDS } from "./reed-work.ts";

/** The shape of a repair inside other files: what a file may hold, with bounds. */

const between = ({ low, high }: { readonly low: number; readonly high: number }) =>
  v.pipe(v.number(), v.minValue(low), v.maxValue(high));

const day = v.pipe(
  v.string(),
  v.check((words) => readPracticeDay(words) !== null, "no day of the calendar"),
);

/** What a meter may read of a reed, in cents: beyond three semitones it is another reed. */
export const READING_BOUNDS = { low: -MOST_OFF_CENTS, high: MOST_OFF_CENTS } as const;
const reading = v.nullable(between(READING_BOUNDS));
const readings = v.pipe(
  v.array(v.object({ blow: reading, draw: reading })),
  v.minLength(1),
  v.maxLength(MOST_HOLES),
);

const rulesShape = v.looseObject({
  mostSemitones: between(LIMIT_BOUNDS.mostSemitones),
  toleranceCents: between(LIMIT_BOUNDS.toleranceCents),
  passes: v.pipe(between({ low: LEAST_PASSES, high: MOST_PASSES }), v.integer()),
  unmeasured: v.picklist(["refuse", "take as they should sound"]),
});

export const repairShape = v.looseObject({
  id: v.pipe(v.string(), v.minLength(1), v.maxLength(200)),
  from: harpShape,
  to: harpShape,
  rules: rulesShape,
  begunOn: day,
  before: readings,
  passes: v.pipe(v.array(v.looseObject({ on: day, read: readings })), v.maxLength(MOST_PASSES)),
  reading: readings,
  doneOn: v.nullable(day),
});
