import type { Exercise } from "../../core/exercise/exercise.ts";
import { makeScaleDrill } from "../../core/exercise/scale-drill.ts";
import { seededRandom } from "../../core/exercise/seeded-random.ts";
import { harpInKey, harpName } from "../../core/instrument/harp.ts";
import { positionName } from "../../core/instrument/positions.ts";
import { PLAIN_AND_BENDS } from "../../core/instrument/reed-actions.ts";
import { STANDARD_LAYOUT } from "../../core/instrument/stock-layouts.ts";
import { listenToTake } from "../../core/listen/listen-to-take.ts";
import { noteName } from "../../core/pitch/note-names.ts";
import type { Attempt, Mark } from "../../core/score/attempt.ts";
import { scoreTake } from "../../core/score/score-take.ts";
import { summaryInWords } from "../../core/score/summary-words.ts";
import { choosePlants, type Plant } from "../../core/simulate/plants.ts";
import { simulateTake } from "../../core/simulate/simulated-take.ts";
import { tempoInWords } from "../../core/tune/tempo.ts";
import { bpm } from "../../core/units.ts";
import { fileWords, numberOption, readArguments } from "./arguments.ts";
import { CommandError } from "./command-error.ts";
import type { Io } from "./io.ts";

const SAMPLE_RATE_HZ = 48_000;

/** The whole chain without window or microphone: a drill, a simulated take with mistakes, its marks beside the truth. */
export async function demo(args: readonly string[], io: Io): Promise<void> {
  const read = readArguments(args, ["seed"]);
  fileWords(read, []);
  const seed = numberOption(read, "seed", 1, { low: 0, high: 2 ** 32 - 1, whole: true });
  const exercise = demoExercise();
  const plants = choosePlants(exercise, seededRandom(seed));
  const take = simulateTake(exercise, { seed, plants, sampleRateHz: SAMPLE_RATE_HZ });
  const attempt = scoreTake(exercise, listenToTake(take.samples, take.sampleRateHz));
  io.stdout(
    `${[...heading(exercise, seed), "", ...table(exercise, plants, attempt), "", ...summaryInWords(attempt)].join("\n")}\n`,
  );
}

/** The warm-up of a village dance band's harmonica player before the autumn dances. */
function demoExercise(): Exercise {
  const harp = harpInKey(STANDARD_LAYOUT, "G");
  if (harp === null) throw new CommandError("the demonstration harp cannot be made");
  const made = makeScaleDrill({
    harp,
    position: 2,
    mode: "mixolydian",
    octaves: 1,
    direction: "both",
    start: "easiest",
    tempo: { bpm: bpm(90), noteValue: "1/4" },
    notesPerBeat: 1,
    countInBeats: 4,
    abilities: PLAIN_AND_BENDS,
  });
  if (made.kind === "impossible") throw new CommandError(made.reason);
  return made.exercise;
}

function heading(exercise: Exercise, seed: number): readonly string[] {
  return [
    `${exercise.title}, ${tempoInWords(exercise.tempo)}`,
    `${harpName(exercise.harp)}, ${positionName(exercise.position)} position`,
    `A simulated player (seed ${seed}) with five planted mistakes.`,
  ];
}

function table(exercise: Exercise, plants: readonly Plant[], attempt: Attempt): readonly string[] {
  const rows = attempt.marks.map((mark) => {
    const note = exercise.notes[mark.index];
    const extras = attempt.extras.filter((extra) => extra.afterIndex === mark.index);
    const found = [describeMark(mark), ...extras.map((extra) => `then too many: ${named(extra.heardMidi)}`)];
    return [
      String(mark.index + 1),
      mark.tab,
      note?.noteName ?? "",
      planted(plants, mark.index),
      found.join("; "),
    ];
  });
  return alignColumns([["note", "tab", "asked", "planted", "found"], ...rows]);
}

function planted(plants: readonly Plant[], index: number): string {
  const plant = plants.find((candidate) => candidate.index === index);
  switch (plant?.kind) {
    case undefined:
      return "";
    case "wrong":
      return `wrong: ${named(plant.midi)}`;
    case "missed":
      return "missed";
    case "extra":
      return `too many: ${named(plant.midi)}`;
    case "pitch":
      return signed(plant.offsetCents, "cents");
    case "time":
      return signed(plant.offsetMs, "ms");
  }
}

function describeMark(mark: Mark): string {
  const slip = mark.diagnosis === null ? "" : `, ${mark.diagnosis.kind}`;
  if (mark.verdict === "wrong")
    return `wrong: ${named(mark.heardMidi)} (${mark.heardAs.join(" or ")})${slip}`;
  if (mark.verdict !== "hit") return mark.reason === null ? mark.verdict : `${mark.verdict}: ${mark.reason}`;
  const numbers = [
    mark.cents === null ? "" : signed(mark.cents, "cents"),
    mark.ms === null ? "" : signed(mark.ms, "ms"),
  ];
  const judged = [mark.intonation, mark.timing].filter(
    (word) => word !== "in tune" && word !== "on the beat",
  );
  return [`hit ${numbers.join(", ")}`, ...judged].join(", ") + slip;
}

const named = (note: Mark["heardMidi"]) => (note === null ? "no clear pitch" : noteName(note));

function signed(value: number, unit: string): string {
  const rounded = Math.round(value);
  return `${rounded > 0 ? "+" : ""}${rounded === 0 ? 0 : rounded} ${unit}`;
}

function alignColumns(rows: readonly (readonly string[])[]): readonly string[] {
  const widths = (rows[0] ?? []).map((_, column) =>
    Math.max(...rows.map((row) => (row[column] ?? "").length)),
  );
  return rows.map((row) =>
    row
      .map((cell, column) => cell.padEnd(widths[column] ?? 0))
      .join("  ")
      .trimEnd(),
  );
}
