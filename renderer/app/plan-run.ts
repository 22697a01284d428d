import type { Exercise } from "../../core/exercise/exercise.ts";
import { lengthened } from "../../core/progress/plan/plan-changes.ts";
import {
  type KeptPlan,
  leftSeconds,
  lineState,
  openLine,
  partNow,
  takenUp,
  withLineState,
  withSkipped,
} from "../../core/progress/plan/plan-kept.ts";
import {
  lineName,
  type PlanLine,
  type PlanPart,
  type PlayedLine,
} from "../../core/progress/plan/plan-shape.ts";
import type { Attempt } from "../../core/score/attempt.ts";
import type { AfterRound } from "../practice/practice-services.ts";
import type { PracticeSession } from "../practice/practice-session.ts";
import { isBusy } from "../practice/practice-state.ts";
import type { HowToPlay } from "./how-to-play.ts";
import { type RunMoment, type RunState, type RunWorld, withOwnLine } from "./plan-run-state.ts";

/** To look at the sheet before the first take of something. */
const LOOK_SECONDS = 5;
const STUCK_SECONDS = 8;
const TICK_MS = 1000;
/** A line with less than this left is not begun again: no take fits. */
const TOO_SHORT_SECONDS = 5;

/**
 * A day's plan being played from end to end: line after line on the practice sheet, rests between, without a hand. A line ends
 * after the marks of the take in which its minutes were used up.
 */
export class PlanRun {
  private state: RunState;
  private readonly listeners = new Set<() => void>();
  private timer: ReturnType<typeof setInterval> | null = null;
  /** Counts what was opened, so that a late answer changes nothing. */
  private opened = 0;
  private looksAfterHearing = false;
  /** Exercises as the player has them by now, by item: another tempo stays. */
  private readonly exercises = new Map<string, Exercise>();

  constructor(
    kept: KeptPlan,
    private readonly world: RunWorld,
  ) {
    this.state = { kept, moment: { kind: "over" }, told: null };
  }

  readonly subscribe = (listener: () => void): (() => void) => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };

  readonly getState = (): RunState => this.state;

  /** Begins, or goes on where it was left. */
  start(): void {
    this.timer ??= setInterval(() => this.tick(), TICK_MS);
    this.set({ kept: takenUp(this.state.kept) });
    this.goOn();
  }

  /** Space in a rest: stay in it, then leave it. */
  startOrStay(): void {
    const { moment } = this.state;
    if (moment.kind === "stuck") this.passOver(moment.line);
    if (moment.kind !== "resting") return;
    if (moment.staying) this.endLine(moment.line);
    else this.set({ moment: { ...moment, staying: true } });
  }

  /** Leaves the line for the next; it counts as skipped. */
  skip(): void {
    const line = this.line();
    if (line === null) return;
    const { kept } = this.state;
    const name = lineName(line);
    // What was played before it was left was done.
    const isDone = lineState(kept, name).takes > 0;
    this.set({ kept: isDone ? withLineState(kept, name, { state: "done" }) : withSkipped(kept, name) });
    this.goOn();
  }

  /** Makes the line longer. */
  lengthen(): void {
    const line = this.line();
    if (line === null) return;
    const { kept } = this.state;
    const plan = lengthened(kept.plan, lineName(line));
    const longer = plan.lines.find((one) => lineName(one) === lineName(line)) ?? line;
    const told = longer.minutes === line.minutes ? "Longer than that needs a rest." : null;
    this.set({ kept: { ...kept, plan }, moment: withOwnLine(this.state.moment, longer), told });
    this.world.keep(this.state.kept);
  }

  /** Puts something else of its kind on the line. */
  swap(): void {
    const line = this.line();
    if (line === null || line.kind === "rest") return;
    const kept = this.world.swapped(this.state.kept, lineName(line));
    if (kept === null) {
      this.set({ told: "There is nothing else of this kind." });
      return;
    }
    this.set({ kept });
    this.world.keep(kept);
    this.openAgain(line);
  }

  /** The line's exercise at another tempo, or played another way. */
  practise(exercise: Exercise, held: string | null = null, how: Partial<HowToPlay> = {}): void {
    const { moment } = this.state;
    if (moment.kind !== "playing") return;
    this.exercises.set(moment.part.item, exercise);
    this.show(moment.line, moment.part, exercise, held, how);
  }

  /** Silences everything and keeps how far it is. */
  leave(): void {
    this.opened++;
    this.end();
    if (this.timer !== null) clearInterval(this.timer);
    this.timer = null;
    this.world.keep(this.state.kept);
  }

  private line(): PlanLine | null {
    const { moment } = this.state;
    return moment.kind === "over" ? null : moment.line;
  }

  private set(part: Partial<RunState>): void {
    this.state = { ...this.state, told: null, ...part };
    for (const listener of this.listeners) listener();
  }

  /** Ends what sounds and listens, the microphone with it. */
  private end(): void {
    const { moment } = this.state;
    if (moment.kind === "playing") moment.session.dispose();
  }

  private goOn(): void {
    this.world.keep(this.state.kept);
    const next = openLine(this.state.kept);
    if (next !== null && next.kind !== "rest") return void this.open(next);
    this.opened++;
    this.end();
    this.set({
      moment: next === null ? { kind: "over" } : { kind: "resting", line: next, staying: false },
    });
    if (next === null && this.timer !== null) {
      clearInterval(this.timer);
      this.timer = null;
    }
  }

  private endLine(line: PlanLine): void {
    this.set({ kept: withLineState(this.state.kept, lineName(line), { state: "done" }) });
    this.goOn();
  }

  private async open(line: PlayedLine): Promise<void> {
    const mine = ++this.opened;
    this.end();
    const part = partNow(this.state.kept, line);
    const known = this.exercises.get(part.item);
    if (known !== undefined) return this.show(line, part, known);
    this.set({ moment: { kind: "opening", line, part } });
    const made = await this.world.exerciseOf(part).catch((error: unknown) => ({
      kind: "impossible" as const,
      reason: error instanceof Error ? error.message : String(error),
    }));
    if (this.opened !== mine) return;
    if (made.kind === "impossible") {
      const words = `${part.title} cannot be played: ${made.reason}.`;
      return this.set({ moment: { kind: "stuck", line, words, goesOnInSeconds: STUCK_SECONDS } });
    }
    this.exercises.set(part.item, made.exercise);
    this.show(line, part, made.exercise);
  }

  private show(
    line: PlayedLine,
    part: PlanPart,
    exercise: Exercise,
    held: string | null = null,
    how: Partial<HowToPlay> = {},
  ): void {
    this.end();
    const session = this.world.newSession(exercise, (attempt) => this.afterRound(attempt), how);
    const byItself = this.world.begins() === "key";
    const { takes } = lineState(this.state.kept, lineName(line));
    // A stretch of a tune that is new is heard before it is played for the first time.
    const hears = byItself && line.kind === "new" && part.recipe.kind === "tune" && takes === 0;
    this.looksAfterHearing = hears;
    const beginsInSeconds = byItself && !hears ? LOOK_SECONDS : null;
    this.set({ moment: { kind: "playing", line, part, session, held, beginsInSeconds } });
    session.subscribe(() => this.follow(session));
    if (hears) void session.hear();
  }

  /** What was begun by the player does not begin by itself as well. */
  private follow(session: PracticeSession): void {
    const { moment } = this.state;
    if (moment.kind !== "playing" || moment.session !== session) return;
    const state = session.getState();
    if (state.kind === "playing" || state.kind === "opening") this.looksAfterHearing = false;
    if (moment.beginsInSeconds !== null && state.kind !== "ready")
      this.set({ moment: { ...moment, beginsInSeconds: null } });
    if (this.looksAfterHearing && state.kind === "ready" && state.trouble === null) {
      this.looksAfterHearing = false;
      this.set({ moment: { ...moment, beginsInSeconds: LOOK_SECONDS } });
    }
  }

  private afterRound(attempt: Attempt): AfterRound | null {
    const { moment, kept } = this.state;
    if (moment.kind !== "playing") return null;
    const { line, part } = moment;
    const name = lineName(line);
    const { hit, wrong, extra } = attempt.summary.notes;
    if (hit + wrong + extra === 0)
      return { words: "Nothing was heard: the plan waits until you start again.", begin: null };
    const next = withLineState(kept, name, { takes: lineState(kept, name).takes + 1 });
    this.set({ kept: next });
    this.world.keep(next);
    if (leftSeconds(next, line) < TOO_SHORT_SECONDS)
      return { words: this.wordsAfter(line), begin: () => this.endLine(line) };
    const turn = partNow(next, line);
    return turn === part || turn.item === part.item
      ? null
      : { words: turn.title, begin: () => void this.open(line) };
  }

  private wordsAfter(line: PlanLine): string {
    const done = withLineState(this.state.kept, lineName(line), { state: "done" });
    const next = openLine(done);
    return next === null ? "The end of the plan" : next.kind === "rest" ? "A rest" : "The next line";
  }

  private tick(): void {
    const { moment } = this.state;
    switch (moment.kind) {
      case "playing":
        this.tickPlaying(moment);
        break;
      case "resting":
        if (!moment.staying) this.tickResting(moment.line);
        break;
      case "stuck":
        if (moment.goesOnInSeconds <= 1) this.passOver(moment.line);
        else this.set({ moment: { ...moment, goesOnInSeconds: moment.goesOnInSeconds - 1 } });
        break;
      default:
    }
  }

  private tickResting(line: PlanLine): void {
    const used = this.counted(line);
    this.set({ kept: used });
    if (leftSeconds(used, line) <= 0) this.endLine(line);
  }

  private tickPlaying(moment: Extract<RunMoment, { kind: "playing" }>): void {
    const { line, session, beginsInSeconds } = moment;
    if (!this.isPractising(moment)) return;
    const used = this.counted(line);
    const state = session.getState();
    const waits = state.kind === "ready" && state.awaitsNote;
    if (beginsInSeconds === 1) {
      this.set({ kept: used, moment: { ...moment, beginsInSeconds: null } });
      void session.play();
    } else if (beginsInSeconds !== null) {
      this.set({ kept: used, moment: { ...moment, beginsInSeconds: beginsInSeconds - 1 } });
    } else {
      this.set({ kept: used });
      if (waits && leftSeconds(used, line) <= 0) this.endLine(line);
    }
  }

  /** Whether the clock of the line goes: not while the player stays with marks, or the sheet waits for a key. */
  private isPractising({ session, beginsInSeconds }: Extract<RunMoment, { kind: "playing" }>): boolean {
    const state = session.getState();
    if (isBusy(state) || beginsInSeconds !== null) return true;
    return state.kind === "marked"
      ? state.againInSeconds !== null
      : state.kind === "ready" && state.awaitsNote;
  }

  private counted(line: PlanLine): KeptPlan {
    const { kept } = this.state;
    const name = lineName(line);
    return withLineState(kept, name, { seconds: lineState(kept, name).seconds + TICK_MS / 1000 });
  }

  /** What cannot be played is no reason to stop: the line's other parts, or the next line. */
  private passOver(line: PlayedLine): void {
    const { kept } = this.state;
    const part = partNow(kept, line);
    const others = line.parts.filter(({ item }) => item !== part.item);
    if (others.length === 0) {
      this.skip();
      return;
    }
    const lines = kept.plan.lines.map((one) =>
      lineName(one) === lineName(line) ? { ...line, parts: others } : one,
    );
    this.set({ kept: { ...kept, plan: { ...kept.plan, lines } } });
    this.openAgain(line);
  }

  private openAgain(line: PlayedLine): void {
    const changed = this.state.kept.plan.lines.find((one) => lineName(one) === lineName(line));
    if (changed !== undefined && changed.kind !== "rest") void this.open(changed);
  }
}
