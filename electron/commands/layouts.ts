import { harpInKey, reedNote } from "../../core/instrument/harp.ts";
import { BREATHS, type Breath, type Layout, reedsOf } from "../../core/instrument/layout.ts";
import { writeLayout } from "../../core/instrument/layout-json.ts";
import { layoutWarnings } from "../../core/instrument/layout-warnings.ts";
import { layoutSource, STOCK_LAYOUTS } from "../../core/instrument/stock-layouts.ts";
import { noteName } from "../../core/pitch/note-names.ts";
import { fileWords, readArguments } from "./arguments.ts";
import { CommandError } from "./command-error.ts";
import { layoutOption } from "./harp-option.ts";
import type { Io } from "./io.ts";

/** Prints every layout, or one as the layout file a player can change. */
export async function layouts(args: readonly string[], io: Io): Promise<void> {
  const read = readArguments(args, ["layout"]);
  fileWords(read, []);
  if (read.options.layout !== undefined) {
    io.stdout(writeLayout(await layoutOption(read)));
    return;
  }
  const all = { schema: "reedpath.layouts", version: 1, layouts: STOCK_LAYOUTS.map(layoutToJson) };
  io.stdout(`${JSON.stringify(all, null, 2)}\n`);
}

function layoutToJson(layout: Layout) {
  return {
    id: layout.id,
    name: layout.name,
    source: layoutSource(layout.id),
    positionKey: layout.positionKey ?? 0,
    labelKey: layout.labelKey ?? 0,
    holes: layout.holes,
    onC: Object.fromEntries(BREATHS.map((breath) => [breath, rowOnC(layout, breath)])),
    differentPitches: new Set(reedsOf(layout).map((reed) => reed.sounds)).size,
    warnings: layoutWarnings(layout).map((warning) => warning.text),
  };
}

function rowOnC(layout: Layout, breath: Breath): readonly (string | null)[] {
  const harp = harpInKey(layout, "C");
  if (harp === null) throw new CommandError("a C harp cannot be made");
  const spelling = ["Db", "Eb", "Gb", "Ab", "Bb"];
  return layout.holes.map((_, index) => {
    const note = reedNote(harp, index + 1, breath);
    return note === null ? null : noteName(note, spelling);
  });
}
