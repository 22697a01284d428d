/** The workshop's figures, part by part: `npm run bench:workshop -- [part ...] [--seeds=1,2,3]`, all where none is named. */
import { CHORDS } from "./workshop/chords.ts";
import { DESIGN } from "./workshop/design.ts";
import { MEASURE } from "./workshop/measure.ts";
import { RETUNE } from "./workshop/retune.ts";
import type { BenchSection } from "./workshop/section.ts";

/** A section has a file of its own in `workshop/` and a line here. */
const SECTIONS: readonly BenchSection[] = [DESIGN, RETUNE, MEASURE, CHORDS];

const names = SECTIONS.map(({ name }) => name);
const asked = process.argv.slice(2).filter((word) => !word.startsWith("--seeds="));
const seedList = process.argv.find((word) => word.startsWith("--seeds="))?.slice("--seeds=".length);
const seeds = seedList === undefined ? null : seedList.split(",").map(Number);
const wrongSeed = seeds?.find((seed) => !Number.isSafeInteger(seed) || seed < 0);
const unknown = asked.filter((name) => !names.includes(name));
if (unknown.length > 0) {
  process.stderr.write(
    `bench:workshop: there is no part ${unknown.join(", ")}; there is ${names.join(", ")}\n`,
  );
  process.exitCode = 2;
} else if (wrongSeed !== undefined) {
  process.stderr.write(`bench:workshop: --seeds takes whole numbers apart by commas, not "${seedList}"\n`);
  process.exitCode = 2;
} else {
  for (const section of SECTIONS.filter(({ name }) => asked.length === 0 || asked.includes(name))) {
    const started = performance.now();
    const lines = await section.run({ seeds });
    const seconds = (performance.now() - started) / 1000;
    process.stdout.write(`${[`${section.name} (${seconds.toFixed(1)} s)`, ...lines].join("\n")}\n\n`);
  }
}
