import * as v from "valibot";
import { pitchClassOfName } from "../pitch/note-names.ts";
import { SCHEME_IDS } from "../pitch/tuning-schemes.ts";
import { HIGHEST_REED, LOWEST_REED, MOST_HOLES } from "./layout.ts";

/** Shapes of the instrument's data inside other files: what a file may hold, with bounds. Layout files of their own are read by layout-json.ts. */

const wholeBetween = (low: number, high: number) =>
  v.pipe(v.number(), v.integer(), v.minValue(low), v.maxValue(high));
const text = v.pipe(v.string(), v.maxLength(500));
const reed = v.nullable(wholeBetween(LOWEST_REED, HIGHEST_REED));
const centsWithin = (most: number) => v.pipe(v.number(), v.minValue(-most), v.maxValue(most));
const holesOf = <T extends v.GenericSchema>(hole: T) =>
  v.pipe(v.array(hole), v.minLength(1), v.maxLength(MOST_HOLES));

export const layoutShape = v.object({
  id: text,
  name: text,
  holes: holesOf(
    v.object({ blow: reed, draw: reed, valved: v.exactOptional(v.array(v.picklist(["blow", "draw"]))) }),
  ),
  positionKey: v.exactOptional(wholeBetween(0, 11)),
  labelKey: v.exactOptional(wholeBetween(0, 11)),
});

/** Beyond a semitone a reed is another note. */
const reedCents = v.nullable(centsWithin(100));
const reedsOfHoles = holesOf(v.object({ blow: reedCents, draw: reedCents }));
const stretch = { stretchCentsPerOctave: v.exactOptional(centsWithin(20)) };

export const temperamentShape = v.variant("kind", [
  v.object({ kind: v.literal("equal"), ...stretch }),
  v.object({ kind: v.literal("scheme"), scheme: v.picklist(SCHEME_IDS), ...stretch }),
  v.object({
    kind: v.literal("scale"),
    name: text,
    steps: v.pipe(v.array(centsWithin(9600)), v.minLength(1), v.maxLength(128)),
    ...stretch,
  }),
  v.object({
    kind: v.literal("reeds"),
    name: text,
    holes: reedsOfHoles,
    ...stretch,
  }),
]);

export const harpShape = v.object({
  layout: layoutShape,
  key: v.pipe(
    v.string(),
    v.check((name) => pitchClassOfName(name) !== null, "not the name of a key"),
  ),
  keyNote: wholeBetween(24, 96),
  a4: v.pipe(v.number(), v.minValue(380), v.maxValue(500)),
  temperament: v.exactOptional(temperamentShape),
  reedOffsets: v.exactOptional(reedsOfHoles),
});
