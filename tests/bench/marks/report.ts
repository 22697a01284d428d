import { rootMeanSquare } from "../listen/measures/statistics.ts";
import type { NoteError, Outcome, TakeResult } from "./mark-take.ts";
import { PLANT_KINDS } from "./plants.ts";
import { VERSIONS } from "./versions.ts";

/** Column of the faults that were told as more than one. */
const SEVERAL = "several";
/** Beyond these an error of a right note is listed among the failures. */
const LARGE_CENTS = 6;
const LARGE_MS = 32;

/** The figures of a run, as text. */
export function report(results: readonly TakeResult[]): string {
  const tempi = [...new Set(results.map(({ tempo }) => tempo))].sort((a, b) => a - b);
  const groups = tempi.flatMap((tempo) =>
    VERSIONS.map((version) => ({
      name: `${tempo}  ${version}`,
      of: results.filter((one) => one.tempo === tempo && one.version === version),
    })),
  );
  return [
    table([
      [
        "tempo and version",
        "plants",
        "named rightly",
        "clean notes",
        "accused",
        "not measured",
        "cents rms",
        "ms rms",
        "ms mean",
        "rms about it",
      ],
      ...groups.map(({ name, of }) => figures(name, of)),
      ...VERSIONS.map((version) =>
        figures(
          `all  ${version}`,
          results.filter((one) => one.version === version),
        ),
      ),
      figures("all", results),
      ["aim", "", ">= 97 %", "", "<= 0.5 %", "", "<= 1.5", "<= 8", "", ""],
    ]),
    leakLine(results),
    "Planted (rows) and named (columns), all tempi and versions:",
    confusion(results.flatMap(({ outcomes }) => outcomes)),
    "Named rightly by kind and version, %:",
    byKind(results),
  ].join("\n\n");
}

function figures(name: string, of: readonly TakeResult[]): readonly string[] {
  const outcomes = of.flatMap((one) => one.outcomes);
  const right = outcomes.filter((one) => one.right).length;
  const clean = sum(of.map((one) => one.clean));
  const accused = sum(of.map((one) => new Set(one.accused.map(({ index }) => index)).size));
  const notMeasured = sum(of.map((one) => one.cleanNotMeasured));
  const ms = of.flatMap((one) => one.msErrors.map(({ by }) => by));
  const cents = of.flatMap((one) => one.centsErrors.map(({ by }) => by));
  return [
    name,
    String(outcomes.length),
    share(right, outcomes.length),
    String(clean),
    share(accused, clean, 2),
    share(notMeasured, clean, 2),
    rootMeanSquare(cents).toFixed(2),
    rootMeanSquare(ms).toFixed(1),
    mean(ms).toFixed(1),
    spread(ms).toFixed(1),
  ];
}

function leakLine(results: readonly TakeResult[]): string {
  const leaky = results.filter(({ version }) => version === "leak");
  const told = sum(leaky.map(({ leaksTold }) => leaksTold));
  return `Leaky version: a second reed at -12 dB is told of ${share(told, sum(leaky.map(({ clean }) => clean)))} of the clean notes; it is there, so that accuses nobody.`;
}

function confusion(outcomes: readonly Outcome[]): string {
  const column = (named: string) => (named.includes(" + ") ? SEVERAL : named);
  const names = new Set(outcomes.map(({ named }) => column(named)));
  const columns = [...PLANT_KINDS, "unknown", SEVERAL, "not measured", "nothing"].filter((name) =>
    names.has(name),
  );
  const count = (planted: string, named: string) =>
    outcomes.filter((one) => one.planted === planted && column(one.named) === named).length;
  const kinds = PLANT_KINDS.filter((kind) => outcomes.some((one) => one.planted === kind));
  return table([
    ["", ...columns],
    ...kinds.map((kind) => [kind, ...columns.map((named) => String(count(kind, named) || "."))]),
  ]);
}

function byKind(results: readonly TakeResult[]): string {
  const rightOf = (kind: string, of: readonly TakeResult[]) => {
    const planted = of.flatMap(({ outcomes }) => outcomes).filter((one) => one.planted === kind);
    return share(planted.filter((one) => one.right).length, planted.length);
  };
  return table([
    ["", ...VERSIONS, "all", "plants"],
    ...PLANT_KINDS.map((kind) => [
      kind,
      ...VERSIONS.map((version) =>
        rightOf(
          kind,
          results.filter((one) => one.version === version),
        ),
      ),
      rightOf(kind, results),
      String(results.flatMap(({ outcomes }) => outcomes).filter((one) => one.planted === kind).length),
    ]),
  ]);
}

/** Every fault not named rightly, every clean note accused and every large error of a right note, one a line. */
export const failures = (results: readonly TakeResult[]): readonly string[] => results.flatMap(failuresOf);

export function failuresOf(result: TakeResult): readonly string[] {
  const where = `${result.take}, ${result.version} (${result.title}, ${result.tempo})`;
  return [
    ...result.outcomes
      .filter((one) => !one.right)
      .map(
        (one) =>
          `${where}: note ${one.index} (${one.tab}, ${one.lengthMs} ms) planted ${inWords(one)}; named ${one.named}`,
      ),
    ...result.accused.map((one) => `${where}: note ${one.index} is clean; named ${one.name}`),
    ...large(result.centsErrors, LARGE_CENTS).map(
      ({ index, by }) => `${where}: note ${index} is ${by.toFixed(1)} cents off its plant`,
    ),
    ...large(result.msErrors, LARGE_MS).map(
      ({ index, by }) => `${where}: note ${index} is ${by.toFixed(0)} ms off its plant`,
    ),
  ];
}

const large = (errors: readonly NoteError[], limit: number) =>
  errors.filter(({ by }) => Math.abs(by) > limit);

function inWords({ plant }: Outcome): string {
  const { kind, ...rest } = plant;
  const details = Object.entries(rest).map(
    ([name, value]) => `${name} ${typeof value === "number" ? Math.round(100 * value) / 100 : value}`,
  );
  return details.length === 0 ? kind : `${kind} [${details.join(", ")}]`;
}

function table(rows: readonly (readonly string[])[]): string {
  const widths = (rows[0] ?? []).map((_, column) => Math.max(...rows.map((row) => row[column]?.length ?? 0)));
  return rows
    .map((row) =>
      row
        .map((cell, column) =>
          column === 0 ? cell.padEnd(widths[column] ?? 0) : cell.padStart(widths[column] ?? 0),
        )
        .join("  ")
        .trimEnd(),
    )
    .join("\n");
}

const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);

const mean = (values: readonly number[]) => sum(values) / values.length;

const spread = (values: readonly number[]) => rootMeanSquare(values.map((value) => value - mean(values)));

const share = (part: number, whole: number, digits = 1) =>
  whole === 0 ? "-" : `${((100 * part) / whole).toFixed(digits)} %`;
