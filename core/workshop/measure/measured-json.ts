import { type Harp, harpName } from "../../instrument/harp.ts";
import { BREATHS, type Breath, reedAt } from "../../instrument/layout.ts";
import { tab } from "../../instrument/tab.ts";
import type { HoleCents } from "../../instrument/temperament.ts";
import { hzToMidi } from "../../pitch/equal-temperament.ts";
import { Fault, isObject, parsed, shown } from "../../reading/json-values.ts";
import { cents, hz } from "../../units.ts";
import { pairBeats, reedPairs } from "./beats.ts";
import { plainAction, targetMidiOf } from "./harp-sounds.ts";
import type { MeasuredTake } from "./measure-take.ts";
import { intervalInWords, reedInWords, resultsInWords } from "./measure-words.ts";
import { MOST_TAKEN_OFF_CENTS, type ReedResult, reedResults } from "./reed-results.ts";
import { takeInWords } from "./take-words.ts";

export const MEASURED_SCHEMA = "reedpath.measured-reeds";
export const MEASURED_VERSION = 1;

const rounded = (value: number, decimals: number) => Number(value.toFixed(decimals)) + 0;
const orNull = (value: number | null | undefined, decimals: number) =>
  value === null || value === undefined ? null : rounded(value, decimals);

/** What the headless command prints of a measured recording; README describes the fields. */
export function toMeasuredJson(take: MeasuredTake) {
  const { measurement } = take;
  const { harp } = measurement;
  const results = reedResults(measurement);
  return {
    schema: MEASURED_SCHEMA,
    version: MEASURED_VERSION,
    keyNote: harp.keyNote,
    holes: harp.layout.holes,
    words: [...takeInWords(take), ...resultsInWords(results)],
    reeds: results.map((result, n) => reedToJson(result, harp, measurement.reeds[n]?.readings ?? [])),
    missing: take.missing.map(reedInWords),
    doubt: take.doubt && {
      strangers: take.doubt.strangers,
      of: take.doubt.of,
      better: take.doubt.better && harpName(take.doubt.better),
    },
    unsure: take.unsure.map(({ place, orElse }) => [reedInWords(place), reedInWords(orElse)]),
    leftOut: take.leftOut.map(({ onSeconds, midi, why }) => ({
      atSeconds: rounded(onSeconds, 3),
      midi: orNull(midi, 3),
      why,
    })),
    beats: reedPairs(harp).map((pair) => {
      const { measured, wanted, wideCents } = pairBeats(pair, results);
      return {
        breath: pair.breath,
        holes: [pair.lowHole, pair.highHole],
        interval: intervalInWords(pair.semitones),
        ratio: `${pair.ratio.over}/${pair.ratio.under}`,
        perSecond: orNull(measured, 3),
        wantedPerSecond: rounded(wanted, 3),
        wideCents: orNull(wideCents, 2),
      };
    }),
  };
}

function reedToJson(result: ReedResult, harp: Harp, readings: readonly { readonly midi: number }[]) {
  const { hole, breath, read, failing } = result;
  const target = targetMidiOf(harp, result);
  return {
    hole,
    breath,
    tab: tab(plainAction(result)),
    targetHz: rounded(result.targetHz, 4),
    hz: orNull(result.hz, 4),
    cents: orNull(result.offsetCents, 2),
    rangeCents: orNull(read?.rangeCents, 2),
    wanderCents: orNull(read?.wanderCents, 2),
    levelDbfs: orNull(read?.levelDbfs, 1),
    counted: read?.counted ?? 0,
    agreed: read?.agreed ?? false,
    failing,
    readingsCents: readings.map((reading) => rounded(100 * (reading.midi - target), 2)),
  };
}

export type ReadMeasured =
  | { readonly kind: "reeds"; readonly offsets: readonly HoleCents[] }
  | { readonly kind: "unreadable"; readonly reason: string };

/**
 * Reads what `toMeasuredJson` gives as the reeds' own offsets on a harp, from where they should lie by that harp's temperament and
 * A4. Reeds that were not heard, or lie too far off, have none.
 *
 * @param most how many cents a reed may lie off: what can be taken off in marks, unless told otherwise
 * @returns one line naming the reed and what is wrong, or that it was another harp
 */
export function readMeasured(text: string, harp: Harp, most: number = MOST_TAKEN_OFF_CENTS): ReadMeasured {
  try {
    return { kind: "reeds", offsets: offsetsOf(parsed(text), harp, most) };
  } catch (error) {
    if (error instanceof Fault) return { kind: "unreadable", reason: error.message };
    throw error;
  }
}

function offsetsOf(data: unknown, harp: Harp, most: number): readonly HoleCents[] {
  if (!isObject(data) || data.schema !== MEASURED_SCHEMA)
    throw new Fault(`not a file of measured reeds: "schema" is not "${MEASURED_SCHEMA}"`);
  if (data.version !== MEASURED_VERSION)
    throw new Fault(`version: must be ${MEASURED_VERSION}, not ${shown(data.version)}`);
  if (data.keyNote !== harp.keyNote)
    throw new Fault(
      `keyNote: another harp was measured, its key note is ${shown(data.keyNote)}, not ${harp.keyNote}`,
    );
  checkLayout(data.holes, harp);
  const { reeds } = data;
  if (!Array.isArray(reeds)) throw new Fault(`reeds: must be a list, not ${shown(reeds)}`);
  const found = new Map(reeds.map((reed: unknown, n) => offsetOf(reed, n, harp, most)));
  const at = (hole: number, breath: Breath) => found.get(`${hole} ${breath}`) ?? null;
  return harp.layout.holes.map((_, n) => ({ blow: at(n + 1, "blow"), draw: at(n + 1, "draw") }));
}

/** A file that does not say its layout is taken at its word, reed by reed. */
function checkLayout(holes: unknown, { layout }: Harp): void {
  if (holes === undefined) return;
  if (!Array.isArray(holes)) throw new Fault(`holes: must be a list of holes, not ${shown(holes)}`);
  const sounds = (hole: unknown, breath: Breath) => (isObject(hole) ? (hole[breath] ?? null) : null);
  const differs = (n: number) =>
    BREATHS.find((breath) => sounds(holes[n], breath) !== reedAt(layout, n + 1, breath));
  const longest = Math.max(holes.length, layout.holes.length);
  for (let n = 0; n < longest; n++) {
    const breath = differs(n);
    if (breath !== undefined)
      throw new Fault(`hole ${n + 1}, ${breath}: another layout was measured, not ${layout.name}`);
  }
}

function offsetOf(reed: unknown, n: number, harp: Harp, most: number) {
  const where = `reeds[${n}]`;
  if (!isObject(reed)) throw new Fault(`${where}: must be an object, not ${shown(reed)}`);
  const breath = BREATHS.find((one) => one === reed.breath);
  const { hole } = reed;
  if (breath === undefined)
    throw new Fault(`${where}.breath: must be blow or draw, not ${shown(reed.breath)}`);
  if (typeof hole !== "number" || reedAt(harp.layout, hole, breath) === null)
    throw new Fault(`${where}.hole: this harp has no ${shown(hole)} ${breath}`);
  const name = `${hole} ${breath}`;
  if (reed.hz === null) return [name, null] as const;
  if (typeof reed.hz !== "number" || !(reed.hz > 20 && reed.hz < 20_000))
    throw new Fault(`${where}.hz: must be a frequency in hertz or null, not ${shown(reed.hz)}`);
  const off = 100 * (hzToMidi(hz(reed.hz)) - targetMidiOf(harp, { hole, breath }));
  const isFar = Math.abs(off) > most;
  return [name, isFar ? null : cents(rounded(off, 2))] as const;
}
