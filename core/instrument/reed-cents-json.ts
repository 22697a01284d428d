import { Fault, isObject, parsed, shown } from "../reading/json-values.ts";
import { LIMITS } from "../reading/limits.ts";
import { cents } from "../units.ts";
import { BREATHS, type Breath, type Layout, reedAt } from "./layout.ts";
import type { HoleCents, Temperament } from "./temperament.ts";

export const REED_CENTS_SCHEMA = "reedpath.reed-cents";
export const REED_CENTS_VERSION = 1;
const LONGEST_NAME = LIMITS.nameCharacters.most;
/** Beyond a semitone a reed is another note. */
const MOST_CENTS = 100;

export type ReadReedCents =
  | { readonly kind: "temperament"; readonly temperament: Temperament & { readonly kind: "reeds" } }
  | { readonly kind: "unreadable"; readonly reason: string };

/**
 * Reads a player's own cents for each reed of a harp:
 *
 *     {"schema": "reedpath.reed-cents", "version": 1, "name": "as I filed it",
 *      "holes": [{"blow": 0, "draw": -4}, {"blow": 2.5, "draw": null}]}
 *
 * `holes` begins with hole 1 and has as many as the layout. `blow` and `draw` are cents against equal temperament at the
 * harp's A, sharp positive, -100 to 100; null or left out where nothing is known (then 0 is taken) or there is no reed.
 * `name` may be left out. Beside `holes` other fields are passed over.
 *
 * @param layout the harp's, against which holes and reeds are checked
 * @param most   how many cents a reed may be off: one that was measured may have fallen a semitone and further
 * @returns the tuning, or one line naming hole and reed and what is wrong
 */
export function readReedCents(text: string, layout: Layout, most: number = MOST_CENTS): ReadReedCents {
  try {
    const data = dataOf(text);
    return { kind: "temperament", temperament: { kind: "reeds", ...tuningOf(data, layout, most) } };
  } catch (error) {
    if (error instanceof Fault) return { kind: "unreadable", reason: error.message };
    throw error;
  }
}

function dataOf(text: string): Readonly<Record<string, unknown>> {
  const data = parsed(text);
  if (!isObject(data)) throw new Fault("not a file of reed cents: no JSON object");
  return data;
}

function tuningOf(data: Readonly<Record<string, unknown>>, layout: Layout, most: number) {
  checkVersion(data);
  const { name = "my own cents" } = data;
  if (typeof name !== "string" || name.length > LONGEST_NAME || /\p{C}|[\u2028\u2029]/u.test(name))
    throw new Fault(`name: must be one line of up to ${LONGEST_NAME} characters, not ${shown(name)}`);
  return { name, holes: holesOf(data.holes, layout, most) };
}

function checkVersion({ schema, version }: Readonly<Record<string, unknown>>): void {
  if (schema !== REED_CENTS_SCHEMA)
    throw new Fault(`not a file of reed cents: "schema" is not "${REED_CENTS_SCHEMA}"`);
  if (version === REED_CENTS_VERSION) return;
  if (typeof version === "number" && version > REED_CENTS_VERSION) {
    throw new Fault(
      `made by a newer version of the program (reed cents version ${version}, this one reads ${REED_CENTS_VERSION})`,
    );
  }
  throw new Fault(`version: must be ${REED_CENTS_VERSION}, not ${shown(version)}`);
}

function holesOf(value: unknown, layout: Layout, most: number): readonly HoleCents[] {
  if (!Array.isArray(value)) throw new Fault(`holes: must be a list of holes, not ${shown(value)}`);
  const { length } = layout.holes;
  if (value.length !== length)
    throw new Fault(`holes: there are ${value.length}; the layout ${layout.name} has ${length}`);
  return value.map((hole: unknown, index) => {
    if (!isObject(hole))
      throw new Fault(`hole ${index + 1}: must be an object with blow and draw, not ${shown(hole)}`);
    checkNames(hole, index + 1);
    const [blow = null, draw = null] = BREATHS.map((breath) => reedOf(hole, index + 1, breath, layout, most));
    return { blow, draw };
  });
}

/** A slip in a name would pass for a reed nothing is known of. */
function checkNames(hole: Readonly<Record<string, unknown>>, number: number): void {
  const known: readonly string[] = BREATHS;
  const stranger = Object.keys(hole).find((name) => !known.includes(name));
  if (stranger !== undefined)
    throw new Fault(`hole ${number}: has ${shown(stranger)}; there are blow and draw`);
}

function reedOf(
  hole: Readonly<Record<string, unknown>>,
  number: number,
  breath: Breath,
  layout: Layout,
  most: number,
) {
  const value = hole[breath] ?? null;
  const where = `hole ${number}, ${breath}`;
  if (value === null) return null;
  if (typeof value !== "number" || !Number.isFinite(value))
    throw new Fault(`${where}: must be a number of cents or null, not ${shown(value)}`);
  if (Math.abs(value) > most)
    throw new Fault(
      `${where}: ${value} cents is outside -${most} to ${most}; was this in hertz or a MIDI number?`,
    );
  if (reedAt(layout, number, breath) === null)
    throw new Fault(`${where}: the layout ${layout.name} has no reed there; write null`);
  return cents(value);
}
