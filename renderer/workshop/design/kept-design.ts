import * as v from "valibot";
import { POSITIONS } from "../../../core/instrument/positions.ts";
import { MODE_NAMES } from "../../../core/pitch/modes.ts";
import { LARGEST_MOST_SEMITONES } from "../../../core/workshop/design/limits.ts";
import { harpOfChoice, keptChoice } from "../../ui/chosen-harp.ts";
import {
  type DesignView,
  FIRST_DESIGN,
  KEY_CHOICES,
  MOST_DANCE_WEIGHT,
  MOST_SCALES,
  ORDER_CHOICES,
} from "./design-view.ts";

const whole = (low: number, high: number) =>
  v.pipe(v.number(), v.integer(), v.minValue(low), v.maxValue(high));
const texts = v.pipe(v.array(v.pipe(v.string(), v.maxLength(40))), v.maxLength(60));

const SHAPES = {
  scales: v.pipe(
    v.array(
      v.object({
        position: v.picklist(POSITIONS),
        mode: v.picklist(MODE_NAMES),
        low: whole(0, 127),
        high: whole(0, 127),
      }),
    ),
    v.maxLength(MOST_SCALES),
  ),
  mostSemitones: whole(0, LARGEST_MOST_SEMITONES),
  mostChanged: v.nullable(whole(0, 32)),
  order: v.picklist(ORDER_CHOICES),
  freeHoles: v.pipe(v.array(whole(1, 16)), v.maxLength(16)),
  stays: texts,
  chords: texts,
  bends: texts,
  chordsCount: v.boolean(),
  triads: texts,
  withTunes: v.boolean(),
  danceWeights: v.record(v.string(), whole(0, MOST_DANCE_WEIGHT)),
  keys: v.picklist(KEY_CHOICES),
} as const;

/** The view as plain data that outlives a visit. */
export const designToKeep = ({ harp, ...rest }: DesignView) => ({ ...rest, harp: harpOfChoice(harp, 440) });

/** The view kept from the last visit; what of it makes no sense has its first value. */
export function designOfSettings(kept: Readonly<Record<string, unknown>> | null): DesignView {
  const read = <T>(shape: v.GenericSchema<unknown, T>, field: string, first: T): T => {
    const result = v.safeParse(shape, kept?.[field]);
    return result.success ? result.output : first;
  };
  const first = FIRST_DESIGN;
  return {
    harp: keptChoice(kept?.harp) ?? first.harp,
    scales: read(SHAPES.scales, "scales", first.scales),
    mostSemitones: read(SHAPES.mostSemitones, "mostSemitones", first.mostSemitones),
    mostChanged: read(SHAPES.mostChanged, "mostChanged", first.mostChanged),
    order: read(SHAPES.order, "order", first.order),
    freeHoles: read(SHAPES.freeHoles, "freeHoles", first.freeHoles),
    stays: read(SHAPES.stays, "stays", first.stays),
    chords: read(SHAPES.chords, "chords", first.chords),
    bends: read(SHAPES.bends, "bends", first.bends),
    chordsCount: read(SHAPES.chordsCount, "chordsCount", first.chordsCount),
    triads: read(SHAPES.triads, "triads", first.triads),
    withTunes: read(SHAPES.withTunes, "withTunes", first.withTunes),
    danceWeights: read(SHAPES.danceWeights, "danceWeights", first.danceWeights),
    keys: read(SHAPES.keys, "keys", first.keys),
  };
}
