import { type PracticeState, READY } from "./practice-state.ts";

/** What the sheet does just now: one thing at a time, each with a number, so that the late answer of an abandoned one is recognised. */
export class PracticeActivity {
  private state: PracticeState = READY;
  private readonly listeners = new Set<() => void>();
  private stopNow: () => void = () => {};
  private number = 0;

  /** @param onEnd told whenever something ends, whatever comes after it */
  constructor(private readonly onEnd: () => void) {}

  readonly subscribe = (listener: () => void): (() => void) => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };

  readonly getState = (): PracticeState => this.state;

  /** The number of what goes on. */
  get current(): number {
    return this.number;
  }

  isCurrent(mine: number): boolean {
    return this.number === mine;
  }

  /** Begins something else in place of what goes on. @returns its number */
  begin(state: PracticeState): number {
    this.end();
    this.set(state);
    return this.number;
  }

  end(): void {
    this.number++;
    const stop = this.stopNow;
    this.stopNow = () => {};
    stop();
    this.onEnd();
  }

  /** Registers how to end what goes on; if it has ended meanwhile, ends it now. */
  whenStopped(mine: number, stop: () => void): void {
    if (this.isCurrent(mine)) this.stopNow = stop;
    else stop();
  }

  /** Ends it and says why. */
  fail(mine: number, trouble: string): void {
    if (!this.isCurrent(mine)) return;
    this.end();
    this.set({ kind: "ready", trouble, awaitsNote: false });
  }

  set(state: PracticeState): void {
    this.state = state;
    this.tell();
  }

  /** Changes a part of what is shown of hearing, playing or the marks, if that is still what is shown. */
  update<K extends PracticeState["kind"]>(
    mine: number,
    kind: K,
    part: Partial<Extract<PracticeState, { kind: K }>>,
  ): void {
    if (this.isCurrent(mine) && this.state.kind === kind) this.set({ ...this.state, ...part });
  }

  tell(): void {
    for (const listener of this.listeners) listener();
  }

  /** Nobody looks any longer. */
  leave(): void {
    this.listeners.clear();
  }
}
