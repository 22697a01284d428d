import * as v from "valibot";
import { harpShape } from "../../instrument/harp-shape.ts";
import { reedAt } from "../../instrument/layout.ts";
import { MOST_READINGS } from "./agreement.ts";
import { MEASUREMENT_SCHEMA, MEASUREMENT_VERSION, OUTCOMES } from "./measurement.ts";

const within = (low: number, high: number) => v.pipe(v.number(), v.minValue(low), v.maxValue(high));
/** What a date can be. Source: ECMA-262, 21.4.1.1, 8.64e15 ms either way; nothing was kept before 1970. */
const epochMs = within(0, 8.64e15);
/** A recording may hold many notes of one reed. */
const MOST_KEPT_READINGS = 100 * MOST_READINGS;

const readingShape = v.looseObject({
  midi: within(20, 130),
  wanderCents: within(0, 200),
  settledSeconds: within(0, 3600),
  levelDbfs: within(-200, 20),
});

const reedShape = v.looseObject({
  hole: v.pipe(v.number(), v.integer(), v.minValue(1)),
  breath: v.picklist(["blow", "draw"]),
  readings: v.pipe(v.array(readingShape), v.maxLength(MOST_KEPT_READINGS)),
  outcome: v.nullable(v.picklist(OUTCOMES)),
});

/** A kept measurement without its id, as an archive holds it. */
export const keptMeasurementShape = v.pipe(
  v.looseObject({
    schema: v.literal(MEASUREMENT_SCHEMA),
    version: v.literal(MEASUREMENT_VERSION),
    harp: harpShape,
    source: v.picklist(["microphone", "recording"]),
    reeds: v.pipe(v.array(reedShape), v.maxLength(40)),
    harpId: v.pipe(v.string(), v.minLength(1), v.maxLength(200)),
    beganAtEpochMs: epochMs,
    changedAtEpochMs: epochMs,
    zone: v.pipe(v.string(), v.minLength(1), v.maxLength(200)),
    finished: v.boolean(),
    afterReedWork: v.boolean(),
  }),
  v.check(
    ({ harp, reeds }) =>
      reeds.every(({ hole, breath }) => reedAt(harp.layout as never, hole, breath) !== null),
    "has a reed that its harp has not",
  ),
);
