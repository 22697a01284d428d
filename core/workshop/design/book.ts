import type { Progress } from "../../path/long-work.ts";
import { changedOf, isAllowed, movedOf, type WholeLimits } from "./allowed.ts";
import { type Aim, worth } from "./descend.ts";
import type { HoleChoice } from "./hole-choices.ts";
import { layoutOfHoles } from "./layout-of-holes.ts";
import type { Lie, Repertoire, RepertoireFit } from "./repertoire.ts";

/** A layout by its holes, and how the repertoire lies on it at least. */
export interface Known {
  readonly holes: readonly HoleChoice[];
  readonly fit: RepertoireFit;
}

/** What the search has found so far: the layout that leaves fewest notes not plain. */
export interface Running {
  readonly changed: number;
  readonly notPlain: number;
}

/** How many more changes than are allowed a layout may have to be trimmed. */
const LARGER = 2;

/** Every layout found, each once, with how the repertoire lies on it. */
export class Book {
  best: Running | null = null;
  /** How often the repertoire was laid on a layout. */
  glances = 0;
  private readonly known = new Map<string, Known>();

  constructor(
    private readonly repertoire: Repertoire,
    private readonly whole: WholeLimits,
  ) {}

  get all(): readonly Known[] {
    return [...this.known.values()];
  }

  /** Writes a layout down; steps come as often as a tune is laid. */
  *enter(holes: readonly HoleChoice[]): Generator<Progress, Known> {
    const key = keyOf(holes);
    const written = this.known.get(key);
    if (written !== undefined) return written;
    const fit = yield* this.glance(holes, null);
    const known = { holes, fit };
    this.known.set(key, known);
    if (this.best === null || fit.notPlain < this.best.notPlain)
      this.best = { changed: changedOf(holes), notPlain: fit.notPlain };
    return known;
  }

  /** Where the tunes lie on a layout, with their major scale so far above the key note; null for where they lie best. */
  *liesOn({ holes, fit }: Known, above: number | null): Generator<Progress, readonly Lie[]> {
    return above === null ? fit.lies : (yield* this.glance(holes, above)).lies;
  }

  /** The best few by an aim within the limits. */
  bestFor(aim: Aim, whole: WholeLimits, most: number): readonly Known[] {
    return inOrder(
      this.all.filter(({ holes }) => isAllowed(holes, whole)),
      aim,
    ).slice(0, most);
  }

  /** The best few with a few more changes than are allowed: without the least useful ones they may be good. */
  largerFor(aim: Aim, { mostChanged }: WholeLimits, most: number): readonly Known[] {
    return inOrder(
      this.all.filter(
        ({ holes }) => changedOf(holes) > mostChanged && changedOf(holes) <= mostChanged + LARGER,
      ),
      aim,
    ).slice(0, most);
  }

  private *glance(holes: readonly HoleChoice[], above: number | null): Generator<Progress, RepertoireFit> {
    this.glances++;
    return yield* this.repertoire.glance(layoutOfHoles(this.whole.start, holes), above);
  }
}

const inOrder = (some: readonly Known[], aim: Aim): readonly Known[] =>
  [...some].sort((one, other) => worth(one.fit, aim) - worth(other.fit, aim));

/** One text for each layout. */
const keyOf = (holes: readonly HoleChoice[]): string =>
  `${movedOf(holes)} ${holes.map(({ blow, draw }) => `${blow}/${draw}`).join(" ")}`;
