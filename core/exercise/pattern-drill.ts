import type { Direction, DrillSpec, MadeExercise, PatternFigure } from "./drill-spec.ts";
import { DIRECTION_WORDS, explainMissing, findStretch, ladderOf, unknownDegree } from "./ladder.ts";
import { impossible, layOut, runOn } from "./lay-out.ts";
import { homeAndMode, inPosition, notSeven, type Reach, reachOf, type Step } from "./reach.ts";
import { bendsInWords, rangeInWords } from "./scale-drill.ts";

interface Figure {
  readonly name: string;
  /** Steps of the scale from the note the figure is begun on; "octave" is as many as the mode has degrees. */
  readonly steps: readonly (number | "octave")[];
  /** Named after an interval that only a seven-note mode has at that distance. */
  readonly needsSeven: boolean;
  readonly trains: string;
}

export const PATTERN_FIGURES: Readonly<Record<PatternFigure, Figure>> = {
  thirds: {
    name: "in thirds",
    steps: [0, 2],
    needsSeven: true,
    trains: "Jumping over one note of the scale",
  },
  fourths: { name: "in fourths", steps: [0, 3], needsSeven: true, trains: "Leaping fourths cleanly" },
  sixths: { name: "in sixths", steps: [0, 5], needsSeven: true, trains: "Leaping sixths cleanly" },
  octaves: {
    name: "in octaves",
    steps: [0, "octave"],
    needsSeven: false,
    trains: "Finding each note's octave",
  },
  turns: {
    name: "with turns",
    steps: [0, 1, 0, -1],
    needsSeven: false,
    trains: "Turning round each note of the scale",
  },
  "1-2-3-1": {
    name: "in 1-2-3-1",
    steps: [0, 1, 2, 0],
    needsSeven: false,
    trains: "Running on and coming back",
  },
  "1-2-3-5": {
    name: "in 1-2-3-5",
    steps: [0, 1, 2, 4],
    needsSeven: false,
    trains: "Running on and leaping ahead",
  },
  threes: {
    name: "in groups of three",
    steps: [0, 1, 2],
    needsSeven: false,
    trains: "Rolling the scale in threes",
  },
  fours: {
    name: "in groups of four",
    steps: [0, 1, 2, 3],
    needsSeven: false,
    trains: "Rolling the scale in fours",
  },
};

/** A figure begun on every note of the scale in turn, ended on the note it was going to. */
export function patternDrill(spec: DrillSpec & { kind: "pattern" }): MadeExercise {
  const reach = reachOf(spec);
  const figure = PATTERN_FIGURES[spec.figure];
  const reason = unknownDegree(reach, spec.fromDegree) ?? withoutInterval(reach, figure);
  if (reason !== null) return impossible(reason);
  const found = findStretch(ladderOf(reach), spec);
  const what = `${homeAndMode(reach)} ${figure.name}`;
  if (found.kind === "missing")
    return impossible(explainMissing(reach, `${rangeInWords(spec)} of ${what}`, found.notes));
  const offsets = figure.steps.map((step) => (step === "octave" ? reach.degrees.length : step));
  const steps = figuresOver(found.steps, offsets, spec.direction);
  if (steps.length === 0)
    return impossible(`${rangeInWords(spec)} of ${homeAndMode(reach)} has no room for it ${figure.name}`);
  return layOut(spec, reach, {
    title: `${what}, ${rangeInWords(spec)}, ${DIRECTION_WORDS[spec.direction]}`,
    trains: `${figure.trains}: ${homeAndMode(reach)} ${inPosition(reach)}, ${bendsInWords(steps)}.`,
    placed: runOn(steps, spec.notesPerBeat),
    running: spec,
  });
}

function withoutInterval(reach: Reach, figure: Figure): string | null {
  const reason = figure.needsSeven ? notSeven(reach) : null;
  return reason === null ? null : `a scale ${figure.name} needs a seven-note mode; ${reason}`;
}

function figuresOver(
  rising: readonly Step[],
  offsets: readonly number[],
  direction: Direction,
): readonly Step[] {
  const up = climb(rising, offsets);
  if (up.length === 0) return [];
  const falling = [...rising].reverse();
  if (direction === "up") return endedOn(up, rising.at(-1));
  const down = endedOn(climb(falling, offsets), falling.at(-1));
  return direction === "down" ? down : [...up, ...down];
}

/** The figure on every note that leaves it room within the row. */
function climb(row: readonly Step[], offsets: readonly number[]): readonly Step[] {
  const steps: Step[] = [];
  const first = -Math.min(...offsets);
  for (let base = first; base + Math.max(...offsets) < row.length; base++) {
    for (const offset of offsets) {
      const step = row[base + offset];
      if (step !== undefined) steps.push(step);
    }
  }
  return steps;
}

const endedOn = (steps: readonly Step[], last: Step | undefined): readonly Step[] =>
  last === undefined || steps.at(-1)?.note === last.note ? steps : [...steps, last];
