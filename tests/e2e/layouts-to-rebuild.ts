import { changeReed, changeValve } from "../../core/instrument/change-layout.ts";
import { type Layout, layoutFromRows } from "../../core/instrument/layout.ts";
import { STANDARD_LAYOUT, stockLayout } from "../../core/instrument/stock-layouts.ts";
import { midiOfName } from "../../core/pitch/note-names.ts";
import { semitones } from "../../core/units.ts";
import { LAYOUT_TABLES, type LayoutTable } from "../sources/layout-tables.ts";

const C4 = 60;

/** Semitones above C4 of a printed row; names without octaves rise from the lowest above `above`. */
function reedsOfRow(row: string, above: number): number[] {
  let last = above;
  return row.split(" ").map((name) => {
    const written = midiOfName(/\d/.test(name) ? name : `${name}4`);
    if (written === null) throw new Error(`not a note: ${name}`);
    last = written - C4 + (/\d/.test(name) ? 0 : 12 * Math.ceil((last + 1 - (written - C4)) / 12));
    return last;
  });
}

/** A layout as the table prints it for the key of C; the label is the catalogue's, for the tables have none. */
function printed({ id, blow, draw }: LayoutTable): Layout {
  // Hole 1 blow is C4, or the nearest such note below it.
  const lowest = blow.startsWith("C") ? -1 : -12;
  const blowReeds = reedsOfRow(blow, lowest);
  const rows = { blow: blowReeds, draw: reedsOfRow(draw, blowReeds[0] ?? 0) };
  const stock = stockLayout(id);
  if (stock === null) throw new Error(`no layout ${id}`);
  const { labelKey, positionKey } = stock;
  return {
    ...layoutFromRows(id, id, rows),
    ...(labelKey === undefined ? {} : { labelKey }),
    ...(positionKey === undefined ? {} : { positionKey }),
  };
}

/** What the tables do not have: valves, a hole with one reed, positions counted from elsewhere. */
const homeMade = (): Layout => {
  const valved = [1, 2, 3, 4, 5, 6].reduce((layout, hole) => changeValve(layout, hole, "blow", true), {
    ...STANDARD_LAYOUT,
    id: "home-made",
    name: "home-made",
  });
  const without = changeReed(changeValve(valved, 7, "draw", true), 10, "draw", null);
  return { ...without, positionKey: semitones(7), labelKey: semitones(2) };
};

/** Every layout of the fact sheet's section 1, and one with all that an editor can do besides. */
export const TO_REBUILD: readonly Layout[] = [...LAYOUT_TABLES.map(printed), homeMade()];
