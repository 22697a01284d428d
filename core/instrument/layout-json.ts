import { Fault, isObject, parsed, shown } from "../reading/json-values.ts";
import { LIMITS } from "../reading/limits.ts";
import { type Semitones, semitones } from "../units.ts";
import { idOfName } from "./change-layout.ts";
import {
  BREATHS,
  type Breath,
  HIGHEST_REED,
  type Hole,
  type Layout,
  LOWEST_REED,
  MOST_HOLES,
  sameReeds,
} from "./layout.ts";
import { type LayoutWarning, layoutWarnings } from "./layout-warnings.ts";
import { stockLayout } from "./stock-layouts.ts";

export const LAYOUT_SCHEMA = "reedpath.layout";
export const LAYOUT_VERSION = 1;
const LONGEST_NAME = LIMITS.nameCharacters.most;

export type ReadLayout =
  | { readonly kind: "layout"; readonly layout: Layout; readonly warnings: readonly LayoutWarning[] }
  | { readonly kind: "unreadable"; readonly reason: string };

/**
 * A layout as a file:
 *
 *     {"schema": "reedpath.layout", "version": 1, "id": "my-tuning", "name": "my tuning",
 *      "positionKey": 0, "labelKey": 0,
 *      "holes": [{"blow": 0, "draw": 2}, {"blow": 4, "draw": 7, "valved": ["blow"]}, {"blow": 7, "draw": null}]}
 *
 * `holes` begins with hole 1 and has 1 to 16. `blow` and `draw` are whole semitones above the key note (-24 to 60), null
 * where there is no reed. `valved` names the breaths on which a reed sounds alone. `positionKey` is the note positions
 * are counted from and `labelKey` the one such harps are labelled by, both in semitones above the key note (0 to 11, 0
 * when left out). `id` may be left out and is then made of the name. Fields not named here are passed over.
 */
export function writeLayout(layout: Layout): string {
  const { id, name, holes, positionKey = 0, labelKey = 0 } = layout;
  const data = { schema: LAYOUT_SCHEMA, version: LAYOUT_VERSION, id, name, positionKey, labelKey, holes };
  return `${JSON.stringify(data, null, 2)}\n`;
}

/** Reads a layout file as `writeLayout` describes it: the layout with what is unusual about it, or one line naming hole and reed. */
export function readLayout(text: string): ReadLayout {
  return layoutOrFault(() => layoutOf(parsed(text)));
}

/** As `readLayout`, for data already parsed. */
export function checkLayout(data: unknown): ReadLayout {
  return layoutOrFault(() => layoutOf(data));
}

function layoutOrFault(read: () => Layout): ReadLayout {
  try {
    const own = withOwnId(read());
    return { kind: "layout", layout: own.layout, warnings: [...own.warnings, ...layoutWarnings(own.layout)] };
  } catch (error) {
    if (error instanceof Fault) return { kind: "unreadable", reason: error.message };
    throw error;
  }
}

function layoutOf(data: unknown): Layout {
  if (!isObject(data)) throw new Fault("not a layout: no JSON object");
  checkVersion(data);
  const name = nameOf(data.name);
  const positionKey = keyOf(data.positionKey, "positionKey");
  const labelKey = keyOf(data.labelKey, "labelKey");
  return {
    id: idOf(data.id, name),
    name,
    holes: holesOf(data.holes),
    ...(positionKey === 0 ? {} : { positionKey }),
    ...(labelKey === 0 ? {} : { labelKey }),
  };
}

function checkVersion(data: Readonly<Record<string, unknown>>): void {
  if (data.schema !== LAYOUT_SCHEMA) throw new Fault(`not a layout: "schema" is not "${LAYOUT_SCHEMA}"`);
  if (data.version === LAYOUT_VERSION) return;
  if (typeof data.version === "number" && data.version > LAYOUT_VERSION) {
    throw new Fault(
      `made by a newer version of the program (layout version ${data.version}, this one reads ${LAYOUT_VERSION})`,
    );
  }
  throw new Fault(`version: must be ${LAYOUT_VERSION}, not ${shown(data.version)}`);
}

function nameOf(value: unknown): string {
  const name = typeof value === "string" ? value.trim() : "";
  // Control characters would break the one line a name stands in.
  if (name === "" || name.length > LONGEST_NAME || /\p{C}|[\u2028\u2029]/u.test(name)) {
    throw new Fault(`name: must be one line of 1 to ${LONGEST_NAME} characters, not ${shown(value)}`);
  }
  return name;
}

function idOf(value: unknown, name: string): string {
  if (value === undefined) return idOfName(name);
  if (typeof value === "string" && value.length <= LONGEST_NAME && /^[a-z0-9]+(-[a-z0-9]+)*$/.test(value))
    return value;
  throw new Fault(`id: must be lower-case words joined by hyphens, not ${shown(value)}`);
}

function keyOf(value: unknown, field: string): Semitones {
  if (value === undefined) return semitones(0);
  if (typeof value === "number" && Number.isInteger(value) && value >= 0 && value <= 11)
    return semitones(value);
  throw new Fault(`${field}: must be a whole number of semitones from 0 to 11, not ${shown(value)}`);
}

function holesOf(value: unknown): readonly Hole[] {
  if (!Array.isArray(value)) throw new Fault(`holes: must be a list of holes, not ${shown(value)}`);
  if (value.length < 1 || value.length > MOST_HOLES) {
    throw new Fault(`holes: a layout has 1 to ${MOST_HOLES} holes, not ${value.length}`);
  }
  const holes = value.map((hole: unknown, index) => holeOf(hole, index + 1));
  if (holes.every((hole) => hole.blow === null && hole.draw === null))
    throw new Fault("holes: no hole has a reed");
  return holes;
}

function holeOf(value: unknown, number: number): Hole {
  if (!isObject(value))
    throw new Fault(`hole ${number}: must be an object with blow and draw, not ${shown(value)}`);
  const blow = reedOf(value, number, "blow");
  const draw = reedOf(value, number, "draw");
  const valved = valvesOf(value.valved, number, { blow, draw });
  return valved.length === 0 ? { blow, draw } : { blow, draw, valved };
}

function reedOf(hole: Readonly<Record<string, unknown>>, number: number, breath: Breath): Semitones | null {
  const value = hole[breath];
  const where = `hole ${number}, ${breath}`;
  if (value === null) return null;
  if (value === undefined) throw new Fault(`${where}: is missing; write null where there is no reed`);
  if (typeof value !== "number" || !Number.isInteger(value)) {
    throw new Fault(
      `${where}: must be a whole number of semitones above the key note or null, not ${shown(value)}`,
    );
  }
  if (value < LOWEST_REED || value > HIGHEST_REED) {
    throw new Fault(
      `${where}: ${value} semitones is outside ${LOWEST_REED} to ${HIGHEST_REED} above the key note; was this a MIDI number?`,
    );
  }
  return semitones(value);
}

function valvesOf(value: unknown, number: number, reeds: Hole): readonly Breath[] {
  if (value === undefined) return [];
  const where = `hole ${number}, valved`;
  if (!Array.isArray(value))
    throw new Fault(`${where}: must be a list of "blow" and "draw", not ${shown(value)}`);
  for (const breath of value as readonly unknown[]) {
    if (breath !== "blow" && breath !== "draw")
      throw new Fault(`${where}: must name "blow" or "draw", not ${shown(breath)}`);
    if (reeds[breath] === null) throw new Fault(`${where}: names the ${breath} reed, but there is none`);
  }
  return BREATHS.filter((breath) => value.includes(breath));
}

/** A stock layout's short name on other reeds would pass for the stock layout. */
function withOwnId(layout: Layout): { readonly layout: Layout; readonly warnings: readonly LayoutWarning[] } {
  const stock = stockLayout(layout.id);
  if (stock === null || sameReeds(stock, layout)) return { layout, warnings: [] };
  const id = `${layout.id}-changed`;
  const text = `the short name ${layout.id} belongs to a layout with other reeds; this one becomes ${id}`;
  return { layout: { ...layout, id }, warnings: [{ kind: "short name", holes: [], text }] };
}
