import type { Harp } from "../instrument/harp.ts";
import {
  type Abilities,
  actionNote,
  actionsForNote,
  type ReedAction,
  sameAction,
} from "../instrument/reed-actions.ts";
import { noteCost, stepCost } from "./cost.ts";
import type { ChoicePair, Choices } from "./least-cost.ts";
import type { Line, LineNote } from "./line.ts";
import type { Weights } from "./weights.ts";

/** A note the player has settled, and with it every note that is played alike. */
export interface Pin {
  /** Place in the line. */
  readonly note: number;
  readonly action: ReedAction;
}

/** A pin that could not be kept, and why in one line. */
export interface LostPin {
  readonly pin: Pin;
  readonly reason: string;
}

/** The line as choices between reed actions that hang together. */
export interface ReedChoices {
  /** By note: its place among the choices; null where the harp cannot sound it. */
  readonly choiceOf: readonly (number | null)[];
  /** By choice: what it is made from, easiest first. */
  readonly actions: readonly (readonly ReedAction[])[];
  /** By choice: the pinned one's place among them, or null. */
  readonly pinned: readonly (number | null)[];
  readonly lostPins: readonly LostPin[];
  readonly costs: Choices;
  /** What every action against a pin costs on top: more than any path. */
  readonly againstPin: number;
}

export interface ChoiceSetting {
  readonly abilities: Abilities;
  readonly weights: Weights;
  readonly pins: readonly Pin[];
}

export function reedChoices(line: Line, harp: Harp, setting: ChoiceSetting): ReedChoices {
  const { kept, lost } = sortPins(line, harp, setting.pins);
  const places = new Map<number, number>();
  const actions: (readonly ReedAction[])[] = [];
  const pinned: (number | null)[] = [];
  const choiceOf = line.map((note): number | null => {
    const known = places.get(note.choice);
    if (known !== undefined) return known;
    const pin = kept.get(note.choice) ?? null;
    const able = withPin(actionsForNote(harp, note.midi, setting.abilities), pin);
    if (able.length === 0) return null;
    places.set(note.choice, actions.length);
    pinned.push(pin === null ? null : able.findIndex((action) => sameAction(action, pin)));
    return actions.push(able) - 1;
  });
  const builder = new CostBuilder(line, choiceOf, actions, setting.weights);
  const againstPin = 1 + builder.mostExpensive();
  return {
    choiceOf,
    actions,
    pinned,
    lostPins: lost,
    costs: builder.withPins(pinned, againstPin),
    againstPin,
  };
}

const withPin = (able: readonly ReedAction[], pin: ReedAction | null): readonly ReedAction[] =>
  pin === null || able.some((action) => sameAction(action, pin)) ? able : [...able, pin];

/** The last usable pin of each choice. */
function sortPins(line: Line, harp: Harp, pins: readonly Pin[]) {
  const kept = new Map<number, ReedAction>();
  const lost: LostPin[] = [];
  for (const pin of pins) {
    const note = line[pin.note];
    if (note === undefined) lost.push({ pin, reason: `there is no note ${pin.note + 1}` });
    else if (actionNote(harp, pin.action) !== note.midi)
      lost.push({ pin, reason: "this reed action does not sound the note on this harp" });
    else kept.set(note.choice, pin.action);
  }
  return { kept, lost };
}

/** Sums what every note and every move of a line costs, by choice and by pair of choices. */
class CostBuilder {
  private readonly alone: readonly Float64Array[];
  private readonly pairs = new Map<number, ChoicePair>();

  constructor(
    line: Line,
    choiceOf: readonly (number | null)[],
    private readonly actions: readonly (readonly ReedAction[])[],
    private readonly weights: Weights,
  ) {
    this.alone = actions.map((some) => new Float64Array(some.length));
    let before: { readonly note: LineNote; readonly choice: number } | null = null;
    for (const [index, note] of line.entries()) {
      const choice = choiceOf[index] ?? null;
      if (choice === null) continue;
      this.addNote(note, line[index + 1] ?? null, choice);
      if (before !== null) this.addStep(before.note, note, before.choice, choice);
      before = { note, choice };
    }
  }

  /** More than the dearest path costs. */
  mostExpensive(): number {
    let most = 0;
    for (const costs of this.alone) most += Math.max(...costs);
    for (const { costs } of this.pairs.values()) most += Math.max(...costs);
    return most;
  }

  withPins(pinned: readonly (number | null)[], againstPin: number): Choices {
    const alone = this.alone.map((costs, choice) => {
      const pin = pinned[choice] ?? null;
      return pin === null ? costs : costs.map((cost, place) => (place === pin ? cost : cost + againstPin));
    });
    return { alone, pairs: [...this.pairs.values()] };
  }

  private addNote(note: LineNote, next: LineNote | null, choice: number): void {
    const costs = this.alone[choice];
    for (const [place, action] of (this.actions[choice] ?? []).entries())
      raise(costs, place, noteCost(note, next, action, this.weights));
  }

  private addStep(note: LineNote, next: LineNote, first: number, second: number): void {
    const table = this.tableOf(first, second);
    // The same choice twice in a row takes the same action twice.
    for (const [from, one] of (this.actions[first] ?? []).entries())
      for (const [to, other] of (this.actions[second] ?? []).entries())
        if (first !== second || from === to)
          raise(table.costs, table.placeOf(from, to), stepCost(note, next, one, other, this.weights));
  }

  /** Where the cost of a move is kept: with one choice if the other has no say. */
  private tableOf(first: number, second: number) {
    const [firstSize, secondSize] = [this.sizeOf(first), this.sizeOf(second)];
    if (first === second || secondSize === 1)
      return { costs: this.alone[first], placeOf: (from: number, _: number) => from };
    if (firstSize === 1) return { costs: this.alone[second], placeOf: (_: number, to: number) => to };
    const costs = this.pairOf(Math.min(first, second), Math.max(first, second)).costs;
    return first < second
      ? { costs, placeOf: (from: number, to: number) => from * secondSize + to }
      : { costs, placeOf: (from: number, to: number) => to * firstSize + from };
  }

  private pairOf(first: number, second: number): ChoicePair {
    const key = first * this.actions.length + second;
    const known = this.pairs.get(key);
    if (known !== undefined) return known;
    const made = { first, second, costs: new Float64Array(this.sizeOf(first) * this.sizeOf(second)) };
    this.pairs.set(key, made);
    return made;
  }

  private sizeOf(choice: number): number {
    return this.actions[choice]?.length ?? 0;
  }
}

function raise(costs: Float64Array | undefined, place: number, by: number): void {
  if (costs !== undefined) costs[place] = (costs[place] ?? 0) + by;
}
