/**
 * How the cost of what grows grows: attempts in the history, tunes, the length of a take, harps and layouts in a search, each at
 * once, ten and a hundred times as much. Prints a table with the power of the size that the seconds grow by.
 * Usage: npm run bench:curves -- [--attempts 100] [--only tunes|takes|layouts|history]
 */
import { parseArgs } from "node:util";
import { type Curve, exponentOf } from "./curves/curve.ts";
import { historyCurves } from "./curves/history-curves.ts";
import { takeCurves } from "./curves/take-curves.ts";
import { layoutCurves, tuneCurves } from "./curves/tune-curves.ts";

/** Beyond this a curve is explained or mended. */
const MOST_EXPONENT = 1.2;

const { values } = parseArgs({
  options: { attempts: { type: "string", default: "100" }, only: { type: "string" } },
});
const attempts = Number(values.attempts);
if (!Number.isInteger(attempts) || attempts < 100) {
  process.stderr.write("bench:curves: --attempts takes a whole number from 100 on\n");
  process.exit(2);
}

const say = (words: string) => void process.stderr.write(`${words}\n`);
const sections: Readonly<Record<string, () => readonly Curve[] | Promise<readonly Curve[]>>> = {
  tunes: tuneCurves,
  takes: takeCurves,
  layouts: layoutCurves,
  history: () => historyCurves(attempts, say),
};

const curves: Curve[] = [];
for (const [name, run] of Object.entries(sections)) {
  if (values.only !== undefined && values.only !== name) continue;
  say(name);
  curves.push(...(await run()));
}
process.stdout.write(`${table(curves)}\n`);

function table(all: readonly Curve[]): string {
  const head =
    "| work | grows with | sizes | seconds | each time ten times as much | power |\n| --- | --- | --- | --- | --- | --- |";
  return [head, ...all.map(row)].join("\n");
}

function row(curve: Curve): string {
  const { work, of, sizes, seconds, clock } = curve;
  const ratios = seconds.slice(1).map((one, at) => (one / (seconds[at] ?? Number.NaN)).toFixed(1));
  const exponent = exponentOf(curve);
  const power =
    exponent === null ? "too short" : exponent.toFixed(2) + (exponent > MOST_EXPONENT ? ", open" : "");
  const told = seconds.map((one) => Number(one.toPrecision(2)));
  return `| ${work} | ${of} | ${sizes.join(", ")} | ${told.join(", ")}${clock === "clock" ? " by the clock" : ""} | ${ratios.join(", ")} | ${power} |`;
}
