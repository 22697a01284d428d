/** The workshop's figures, part by part: `npm run bench:workshop -- [part ...]`, all of them where none is named. */
import { RETUNE } from "./workshop/retune.ts";
import type { BenchSection } from "./workshop/section.ts";

/** A section has a file of its own in `workshop/` and a line here. */
const SECTIONS: readonly BenchSection[] = [RETUNE];

const names = SECTIONS.map(({ name }) => name);
const asked = process.argv.slice(2);
const unknown = asked.filter((name) => !names.includes(name));
if (unknown.length > 0) {
  process.stderr.write(
    `bench:workshop: there is no part ${unknown.join(", ")}; there is ${names.join(", ")}\n`,
  );
  process.exitCode = 2;
} else {
  for (const section of SECTIONS.filter(({ name }) => asked.length === 0 || asked.includes(name))) {
    const started = performance.now();
    const lines = await section.run();
    const seconds = (performance.now() - started) / 1000;
    process.stdout.write(`${[`${section.name} (${seconds.toFixed(1)} s)`, ...lines].join("\n")}\n\n`);
  }
}
