import type { LookedAtAll } from "./store-page/look-at-all.ts";
import { piecesIn, printOf, takeOf } from "./store-page/made-sound.ts";
import type { Said } from "./store-page/practice-hour.ts";

type Fate = "kept" | "gone" | "between";

interface ToldAttempt {
  fate: Fate;
  /** Of what its take must be; null where that is not known. */
  readonly print: number | null;
}

interface ToldTake {
  readonly seed: number;
  /** On the disk for certain. */
  pieces: number;
  /** "ending": on its way into an attempt, or out. */
  state: "running" | "ending" | "over";
  /** The attempt it is on its way into. */
  attempt: string | null;
}

/** What the page said before it died, and what of that is not found again. */
export class SoakLedger {
  private readonly attempts = new Map<string, ToldAttempt>();
  private readonly takes = new Map<string, ToldTake>();
  /** Said once something was on the disk. */
  done = 0;

  get kept(): number {
    return [...this.attempts.values()].filter(({ fate }) => fate === "kept").length;
  }

  get running(): number {
    return [...this.takes.values()].filter(({ state, pieces }) => state === "running" && pieces > 0).length;
  }

  /** What stood there before the program opened it. */
  stands(ids: readonly string[], prints: ReadonlyMap<string, number>): void {
    for (const id of ids) this.attempts.set(id, { fate: "kept", print: prints.get(id) ?? null });
  }

  hear(said: Exclude<Said, { said: "trouble" }>): void {
    switch (said.said) {
      case "running":
        this.takes.set(said.take, { seed: said.seed, pieces: 0, state: "running", attempt: null });
        return;
      case "piece":
        this.take(said.take).pieces = said.pieces;
        this.done += 1;
        return;
      case "discarding":
        this.take(said.take).state = "ending";
        return;
      case "discarded":
        this.take(said.take).state = "over";
        this.done += 1;
        return;
      case "saving": {
        const take = this.take(said.take);
        take.state = "ending";
        take.attempt = said.id;
        this.attempts.set(said.id, { fate: "between", print: printOf(takeOf(take.seed, said.pieces)) });
        return;
      }
      case "saved":
        this.take(said.take).state = "over";
        this.settle([said.id], "kept");
        return;
      case "bringing":
        for (const id of said.ids) this.attempts.set(id, { fate: "between", print: null });
        return;
      case "removing":
      case "restoring":
        this.settle(said.ids, "between");
        return;
      case "removed":
        this.settle(said.ids, "gone");
        return;
      case "restored":
      case "brought":
        this.settle(said.ids, "kept");
        return;
      case "starred":
        return;
    }
  }

  /** What is lost, risen or changed, each in words; what was between is from now on as it was found. */
  compare(found: LookedAtAll): {
    readonly lost: string[];
    readonly risen: string[];
    readonly changed: string[];
  } {
    const lost: string[] = [];
    const risen: string[] = [];
    const changed: string[] = [];
    const there = new Set(found.ids);
    const prints = new Map(found.takePrints);
    for (const id of there) if (!this.attempts.has(id)) risen.push(`attempt ${id}, never told of`);
    for (const [id, told] of this.attempts) {
      if (told.fate === "kept" && !there.has(id)) lost.push(`attempt ${id}`);
      if (told.fate === "gone" && there.has(id)) risen.push(`attempt ${id}`);
      if (told.fate === "between") told.fate = there.has(id) ? "kept" : "gone";
      if (told.fate === "kept" && told.print !== null && prints.get(id) !== told.print)
        changed.push(`the take of attempt ${id}`);
    }
    const running = new Map(found.running.map((row) => [row.id, row]));
    for (const id of running.keys()) if (!this.takes.has(id)) risen.push(`running take ${id}, never told of`);
    for (const [id, told] of this.takes) {
      const row = running.get(id);
      const kept = told.attempt !== null && there.has(told.attempt);
      if (told.state === "over" && row !== undefined) risen.push(`running take ${id}`);
      if (told.state === "running" && told.pieces > 0 && row === undefined) lost.push(`running take ${id}`);
      if (told.state === "ending" && told.attempt !== null && told.pieces > 0 && (row !== undefined) === kept)
        changed.push(`take ${id} is ${kept ? "kept twice" : "neither running nor kept"}`);
      if (row !== undefined) {
        const pieces = piecesIn(row.samples);
        if (pieces < told.pieces || pieces > told.pieces + 1)
          changed.push(`running take ${id} has ${pieces} pieces`);
        if (row.print !== printOf(takeOf(told.seed, pieces))) changed.push(`the sound of running take ${id}`);
        told.pieces = pieces;
      }
      told.state = row === undefined ? "over" : "running";
      told.attempt = null;
    }
    if (found.strayPieces > 0) changed.push(`${found.strayPieces} stray pieces`);
    return { lost, risen, changed };
  }

  private take(id: string): ToldTake {
    const take = this.takes.get(id);
    if (take === undefined) throw new Error(`nothing was told of running take ${id}`);
    return take;
  }

  private settle(ids: readonly string[], fate: Fate): void {
    if (fate !== "between") this.done += 1;
    for (const id of ids) {
      const told = this.attempts.get(id);
      if (told !== undefined) told.fate = fate;
    }
  }
}
