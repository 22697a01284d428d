/** Something to be done at a time, in seconds of whatever clock the agenda is read against. */
export interface DueCall {
  readonly atSeconds: number;
  readonly call: () => void;
}

/** Calls in order of their times, each once, those of the same time in the order given. */
export class Agenda {
  private readonly due: DueCall[];

  constructor(calls: readonly DueCall[]) {
    this.due = [...calls].sort((a, b) => a.atSeconds - b.atSeconds);
  }

  get isDone(): boolean {
    return this.due.length === 0;
  }

  /** Makes every call whose time has come; a call may clear the agenda. */
  callUpTo(nowSeconds: number): void {
    for (let next = this.due[0]; next !== undefined && next.atSeconds <= nowSeconds; next = this.due[0]) {
      this.due.shift();
      next.call();
    }
  }

  clear(): void {
    this.due.length = 0;
  }
}
