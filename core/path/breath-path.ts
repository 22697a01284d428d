import type { Harp } from "../instrument/harp.ts";
import {
  type Abilities,
  actionsForNote,
  PLAIN_AND_BENDS,
  type ReedAction,
} from "../instrument/reed-actions.ts";
import { type Midi, midi } from "../units.ts";
import { pathCost } from "./cost.ts";
import { LeastCostSolver } from "./least-cost.ts";
import type { Line } from "./line.ts";
import { type LostPin, type Pin, type ReedChoices, reedChoices } from "./reed-choices.ts";
import { FIRST_WEIGHTS, type Weights } from "./weights.ts";

export interface PathOptions {
  /** Plain notes and bends where absent. */
  readonly abilities?: Abilities;
  readonly weights?: Weights;
  readonly pins?: readonly Pin[];
}

/** A note the harp cannot sound with these abilities. */
export interface MissingNote {
  /** Place in the line. */
  readonly note: number;
  readonly midi: Midi;
  readonly where: string;
  /** By how many semitones, in whole octaves, this note alone would have to move to be sounded; nearest first. */
  readonly octaves: readonly number[];
}

/** The whole line moved by octaves, and how many notes would then be missing. */
export interface OctaveShift {
  readonly semitones: number;
  readonly missing: number;
}

export interface BreathPath {
  /** One for each note; null where the harp cannot sound it. */
  readonly actions: readonly (ReedAction | null)[];
  /** In efforts: see `weights.ts`. */
  readonly cost: number;
  /** Notes the harp cannot sound; the path goes on after them. */
  readonly missing: readonly MissingNote[];
  /** Shifts with fewer missing notes, fewest first; empty where nothing is missing or no shift helps. */
  readonly betterShifts: readonly OctaveShift[];
  readonly lostPins: readonly LostPin[];
  /** False where what should be played alike hangs together in too many ways and each note was chosen by itself. */
  readonly playedAlike: boolean;
  /** Whether no other such path costs less; false only where evening the breath was given up before that was known. */
  readonly proved: boolean;
}

/** One way to sound a note, and what the whole path costs at least with it; other pins are kept. */
export interface Alternative {
  readonly action: ReedAction;
  readonly cost: number;
  /** Above the cheapest for this note; 0 for that one. */
  readonly more: number;
}

/**
 * The cheapest reed actions for a line: of all ways to play it on the harp, the one whose `pathCost` is least. Exact, also
 * where notes are played alike and where the player has pinned some.
 */
export function breathPath(line: Line, harp: Harp, options: PathOptions = {}): BreathPath {
  const { choices, solver, playedAlike } = prepare(line, harp, options);
  const { values } = solver.least();
  const actions = choices.choiceOf.map((choice) =>
    choice === null ? null : (choices.actions[choice]?.[values[choice] ?? 0] ?? null),
  );
  const missing = missingNotes(line, harp, actions, abilitiesOf(options));
  return {
    actions,
    cost: pathCost(line, actions, weightsOf(options)),
    missing,
    betterShifts: missing.length === 0 ? [] : betterShifts(line, harp, missing.length, abilitiesOf(options)),
    lostPins: choices.lostPins,
    playedAlike,
    proved: true,
  };
}

/**
 * For each note every reed action that sounds it with what the whole path would cost if it were pinned, cheapest first;
 * empty for a note the harp cannot sound. Notes played alike change together. Found by one pass forward and one backward.
 */
export function alternatives(
  line: Line,
  harp: Harp,
  options: PathOptions = {},
): readonly (readonly Alternative[])[] {
  const { choices, solver } = prepare(line, harp, options);
  const least = solver.leastWithEach();
  const byChoice = choices.actions.map((actions, choice) => {
    const pin = choices.pinned[choice] ?? null;
    const costs = actions.map((_, place) => {
      const cost = least[choice]?.[place] ?? 0;
      return pin === null || pin === place ? cost : cost - choices.againstPin;
    });
    const lowest = Math.min(...costs);
    return actions
      .map((action, place) => ({ action, cost: costs[place] ?? 0, more: (costs[place] ?? 0) - lowest }))
      .sort((one, other) => one.more - other.more);
  });
  return choices.choiceOf.map((choice) => (choice === null ? [] : (byChoice[choice] ?? [])));
}

export const abilitiesOf = (options: PathOptions): Abilities => options.abilities ?? PLAIN_AND_BENDS;
export const weightsOf = (options: PathOptions): Weights => options.weights ?? FIRST_WEIGHTS;

interface Prepared {
  readonly choices: ReedChoices;
  readonly solver: LeastCostSolver;
  readonly playedAlike: boolean;
}

function prepare(line: Line, harp: Harp, options: PathOptions): Prepared {
  const choices = reedChoices(line, harp, settingOf(options));
  const solver = LeastCostSolver.of(choices.costs);
  if (solver !== null) return { choices, solver, playedAlike: true };
  const apart = eachByItself(line, harp, options);
  const inARow = LeastCostSolver.of(apart.costs);
  if (inARow === null) throw new Error("notes in a row need no large table");
  return { choices: apart, solver: inARow, playedAlike: false };
}

const settingOf = (options: PathOptions) => ({
  abilities: abilitiesOf(options),
  weights: weightsOf(options),
  pins: options.pins ?? [],
});

/** Every note a choice of its own; a pin still holds for every note that should be played alike. */
function eachByItself(line: Line, harp: Harp, options: PathOptions): ReedChoices {
  const setting = settingOf(options);
  const pins = setting.pins.flatMap((pin) => notesAlike(line, pin.note).map((note) => ({ ...pin, note })));
  const apart = line.map((note, index) => ({ ...note, choice: index }));
  return reedChoices(apart, harp, { ...setting, pins });
}

/** Every note that is one choice with this one; the place itself where there is no such note. */
function notesAlike(line: Line, place: number): readonly number[] {
  const pinned = line[place];
  if (pinned === undefined) return [place];
  return line.flatMap((note, index) => (note.choice === pinned.choice ? [index] : []));
}

const OCTAVES_NEAREST_FIRST = [-12, 12, -24, 24, -36, 36, -48, 48];

function missingNotes(
  line: Line,
  harp: Harp,
  actions: readonly (ReedAction | null)[],
  abilities: Abilities,
): readonly MissingNote[] {
  return line.flatMap((note, index) => {
    if (actions[index] !== null) return [];
    const octaves = OCTAVES_NEAREST_FIRST.filter(
      (octave) => actionsForNote(harp, midi(note.midi + octave), abilities).length > 0,
    );
    return [{ note: index, midi: note.midi, where: note.where, octaves }];
  });
}

function betterShifts(line: Line, harp: Harp, now: number, abilities: Abilities): readonly OctaveShift[] {
  const missingAt = (shift: number) =>
    line.filter((note) => actionsForNote(harp, midi(note.midi + shift), abilities).length === 0).length;
  return OCTAVES_NEAREST_FIRST.map((shift) => ({ semitones: shift, missing: missingAt(shift) }))
    .filter(({ missing }) => missing < now)
    .sort((one, other) => one.missing - other.missing);
}
