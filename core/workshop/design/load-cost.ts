import { BREATHS, type Hole, type Layout } from "../../instrument/layout.ts";
import { type Abilities, type ReedAction, reedActions } from "../../instrument/reed-actions.ts";
import { moveEffort, techniqueEffort, toneEffort } from "../../path/cost.ts";
import type { Weights } from "../../path/weights.ts";
import { semitones } from "../../units.ts";
import type { HoleChoice } from "./hole-choices.ts";
import { missingEffort } from "./repertoire.ts";
import { LOWEST_NOTE, NOTES, type TuneLoad } from "./tune-load.ts";

/** What a load costs on a layout. */
export interface LoadCost {
  /** Notes without a plain reed, the missing ones too. */
  readonly notPlain: number;
  readonly missing: number;
  readonly effort: number;
}

const NOTHING: LoadCost = { notPlain: 0, missing: 0, effort: 0 };

/** A reed action as numbers, ready to be compared: which reed, plain or not, its own effort, the note it sounds. */
interface Sounding {
  readonly reed: number;
  readonly isPlain: boolean;
  readonly technique: number;
  readonly note: number;
}

/**
 * A layout under a load. Every note takes its least technique, every move the cheapest way between two notes, as the bound of
 * `LayoutCosts` does; a hole tuned otherwise costs only the notes and moves that it touches.
 */
export class LoadedLayout {
  private readonly soundings: Sounding[][] = Array.from({ length: NOTES }, () => []);
  private readonly moveCosts: Float64Array;
  private readonly ofHole: (readonly Sounding[])[];
  private readonly missingEffort: number;
  private readonly noteStamps = new Int32Array(NOTES);
  private readonly moveStamps: Int32Array;
  private stamp = 0;
  private total: LoadCost = NOTHING;

  constructor(
    private readonly load: TuneLoad,
    private readonly efforts: Efforts,
    holes: readonly HoleChoice[],
  ) {
    this.moveCosts = new Float64Array(load.from.length);
    this.moveStamps = new Int32Array(load.from.length);
    this.missingEffort = missingEffort(efforts.weights);
    this.ofHole = holes.map((choice, hole) => efforts.soundings(hole, choice));
    for (const some of this.ofHole) for (const one of some) this.soundings[one.note]?.push(one);
    let { notPlain, missing, effort } = NOTHING;
    for (let note = 0; note < NOTES; note++) {
      const its = this.noteCost(note, this.soundings[note] ?? []);
      notPlain += its.notPlain;
      missing += its.missing;
      effort += its.effort;
    }
    for (let move = 0; move < this.moveCosts.length; move++) {
      this.moveCosts[move] = this.moveCost(move);
      effort += this.moveCosts[move] ?? 0;
    }
    this.total = { notPlain, missing, effort };
  }

  get cost(): LoadCost {
    return this.total;
  }

  /** What the load would cost with a hole, counted from 0, tuned so. */
  costWith(hole: number, choice: HoleChoice): LoadCost {
    return this.change(hole, choice, false);
  }

  /** Tunes a hole so. */
  tune(hole: number, choice: HoleChoice): void {
    this.total = this.change(hole, choice, true);
  }

  private change(hole: number, choice: HoleChoice, isKept: boolean): LoadCost {
    const before = this.ofHole[hole] ?? [];
    const after = this.efforts.soundings(hole, choice);
    const touched = this.touched(before, after);
    let { notPlain, missing, effort } = this.total;
    const was = touched.map((note) => this.soundings[note] ?? []);
    for (const [place, note] of touched.entries()) {
      const old = was[place] ?? [];
      // A hole has its own reeds, so what sounds by another hole is told by the reed.
      const now = old.filter(({ reed }) => reed >> 1 !== hole);
      for (const one of after) if (one.note === note) now.push(one);
      const [from, to] = [this.noteCost(note, old), this.noteCost(note, now)];
      notPlain += to.notPlain - from.notPlain;
      missing += to.missing - from.missing;
      effort += to.effort - from.effort;
      this.soundings[note] = now;
    }
    this.stamp++;
    for (const note of touched) effort += this.movesChanged(note, isKept);
    if (isKept) this.ofHole[hole] = after;
    else for (const [place, note] of touched.entries()) this.soundings[note] = was[place] ?? [];
    return { notPlain, missing, effort };
  }

  /** Notes that sound otherwise with a hole tuned anew, each once. */
  private touched(before: readonly Sounding[], after: readonly Sounding[]): readonly number[] {
    this.stamp++;
    const notes: number[] = [];
    for (const some of [before, after])
      for (const { note } of some) {
        if (this.noteStamps[note] === this.stamp) continue;
        this.noteStamps[note] = this.stamp;
        notes.push(note);
      }
    return notes;
  }

  /** By how much the moves from and to a note cost more, those not seen since the last stamp. */
  private movesChanged(note: number, isKept: boolean): number {
    const moves = this.load.movesAt[note] ?? NO_MOVES;
    let more = 0;
    for (let place = 0; place < moves.length; place++) {
      const move = moves[place] ?? 0;
      if (this.moveStamps[move] === this.stamp) continue;
      this.moveStamps[move] = this.stamp;
      const cost = this.moveCost(move);
      more += cost - (this.moveCosts[move] ?? 0);
      if (isKept) this.moveCosts[move] = cost;
    }
    return more;
  }

  private noteCost(note: number, soundings: readonly Sounding[]): LoadCost {
    const count = this.load.counts[note] ?? 0;
    if (count === 0) return NOTHING;
    if (soundings.length === 0)
      return { notPlain: count, missing: count, effort: count * this.missingEffort };
    let least = Number.POSITIVE_INFINITY;
    let isPlain = false;
    for (const one of soundings) {
      least = Math.min(least, one.technique);
      isPlain ||= one.isPlain;
    }
    return { notPlain: isPlain ? 0 : count, missing: 0, effort: least * (this.load.hurries[note] ?? 0) };
  }

  private moveCost(move: number): number {
    const { load, efforts, soundings } = this;
    const from = soundings[load.from[move] ?? 0];
    const to = soundings[load.to[move] ?? 0];
    if (from === undefined || to === undefined || from.length === 0 || to.length === 0) return 0;
    const hurry = load.hurry[move] ?? 0;
    const tone = efforts.toneChange * (load.joined[move] ?? 0);
    let least = Number.POSITIVE_INFINITY;
    for (let one = 0; one < from.length; one++) {
      const first = from[one];
      for (let other = 0; other < to.length; other++) {
        const second = to[other];
        if (first === undefined || second === undefined) continue;
        const cost =
          efforts.move(first.reed, second.reed) * hurry + (first.isPlain === second.isPlain ? 0 : tone);
        if (cost < least) least = cost;
      }
    }
    return least;
  }
}

const NO_MOVES = new Int32Array();

/** Efforts of the path's cost as tables, and what a hole sounds for every way to tune it. */
export class Efforts {
  readonly toneChange: number;
  private readonly moves: Float64Array;
  private readonly reeds: number;
  private readonly known: Map<number, readonly Sounding[]>[];

  constructor(
    private readonly start: Layout,
    private readonly abilities: Abilities,
    readonly weights: Weights,
  ) {
    this.reeds = 2 * start.holes.length;
    this.moves = new Float64Array(this.reeds * this.reeds);
    for (let from = 0; from < this.reeds; from++)
      for (let to = 0; to < this.reeds; to++)
        this.moves[from * this.reeds + to] = moveEffort(plainOf(from), plainOf(to), weights);
    this.toneChange = toneEffort(plainOf(0), { ...plainOf(0), technique: "bend" }, weights);
    this.known = start.holes.map(() => new Map());
  }

  move(from: number, to: number): number {
    return this.moves[from * this.reeds + to] ?? 0;
  }

  /** What a hole, counted from 0, sounds when tuned so. */
  soundings(hole: number, choice: HoleChoice): readonly Sounding[] {
    const key = (choice.blow ?? 99) * 200 + (choice.draw ?? 99);
    const known = this.known[hole]?.get(key);
    if (known !== undefined) return known;
    const holes = this.start.holes.map(
      (one, place): Hole =>
        place === hole
          ? ({ ...one, blow: choice.blow, draw: choice.draw } as Hole)
          : { blow: null, draw: null },
    );
    const found = reedActions({ ...this.start, holes }, this.abilities).map(({ action, sounds }) => ({
      reed: 2 * hole + BREATHS.indexOf(action.breath),
      isPlain: action.technique === "plain",
      technique: techniqueEffort(action, this.weights),
      note: Math.min(NOTES - 1, Math.max(0, sounds - LOWEST_NOTE)),
    }));
    this.known[hole]?.set(key, found);
    return found;
  }
}

const plainOf = (reed: number): ReedAction => ({
  hole: Math.floor(reed / 2) + 1,
  breath: BREATHS[reed % 2] ?? "blow",
  technique: "plain",
  bentSemitones: semitones(0),
});
