import { seededRandom } from "../../../core/exercise/seeded-random.ts";
import { harpInKey, REGISTERS } from "../../../core/instrument/harp.ts";
import { PLAIN_AND_BENDS } from "../../../core/instrument/reed-actions.ts";
import { STANDARD_LAYOUT, STOCK_LAYOUTS } from "../../../core/instrument/stock-layouts.ts";
import { fitTunes } from "../../../core/path/fit.ts";
import { harpsToOwn } from "../../../core/path/harps-to-own.ts";
import { harpsToTry } from "../../../core/path/harps-to-try.ts";
import { runToEnd } from "../../../core/path/long-work.ts";
import { FIRST_WEIGHTS } from "../../../core/path/weights.ts";
import { readTunes } from "../../../core/tune/read-tunes.ts";
import { writeAbc } from "../../../core/tune/write-abc.ts";
import { FIRST_LIMITS } from "../../../core/workshop/design/limits.ts";
import { tuneLine } from "../../../core/workshop/design/tune-line.ts";
import { seededTunes } from "../../support/seeded-tunes.ts";
import { type Curve, curveOf } from "./curve.ts";

/** As many as come along. */
const TUNES = 41;
/** A search tries a million as a rule: a hundred times as much is five of them. */
const TRIES = 50_000;

/** A growing collection of made-up reels. */
export function tuneCurves(): readonly Curve[] {
  const harps = harpsToTry({ layouts: [STANDARD_LAYOUT] });
  const of = "tunes";
  return [
    curveOf(
      { work: "a book of tunes is read", of, base: TUNES },
      (size) => new TextEncoder().encode(seededTunes(size, 1).map(writeAbc).join("\n")),
      readTunes,
    ),
    curveOf(
      { work: "the best of twelve harps for each", of, base: TUNES },
      (size) => seededTunes(size, 1),
      (tunes) => runToEnd(fitTunes(tunes, harps)),
    ),
    curveOf(
      { work: "the fewest harps for all", of, base: TUNES },
      (size) => seededTunes(size, 1),
      (tunes) => runToEnd(harpsToOwn(tunes, harps, { abilities: PLAIN_AND_BENDS, mostBent: 0.1 })),
    ),
  ];
}

/** A growing number of harps and layouts that the tunes which come along are tried on. */
export function layoutCurves(): readonly Curve[] {
  const tunes = seededTunes(TUNES, 1);
  const all = harpsToTry({ layouts: STOCK_LAYOUTS, registers: REGISTERS });
  const many = seededTunes(10 * TUNES, 1);
  const designer = harpInKey(STANDARD_LAYOUT, "C");
  if (designer === null) throw new Error("there is a C harp");
  const wish = {
    harp: designer,
    scales: [],
    limits: { ...FIRST_LIMITS, mostSemitones: 2 },
    chordsCount: true,
    mustHave: [],
  };
  const setting = {
    harps: harpsToTry({ layouts: [STANDARD_LAYOUT] }),
    abilities: PLAIN_AND_BENDS,
    weights: FIRST_WEIGHTS,
  };
  const weighed = tunes.map((tune) => ({ tune, weight: 1 }));
  return [
    curveOf(
      { work: `the best harp for each of ${10 * TUNES} tunes`, of: "harps tried", base: 3 },
      (size) => all.slice(0, size),
      (harps) => runToEnd(fitTunes(many, harps)),
    ),
    curveOf(
      { work: `a layout for ${TUNES} tunes is searched for`, of: "layouts tried", base: TRIES },
      (size) => size,
      (tries) => runToEnd(tuneLine(wish, { tunes: weighed, setting, random: seededRandom(1), tries })),
    ),
  ];
}
