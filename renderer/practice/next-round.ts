/** Counts down to the next round, for players with both hands full. */
export class NextRound {
  private timer: ReturnType<typeof setInterval> | null = null;
  private leftSeconds = 0;

  /**
   * @param pauseSeconds whole seconds between the marks and the next round; 0 for no next round by itself
   * @param tell  told the seconds left, each second, and null when it was called off
   * @param begin told when the pause is over
   */
  constructor(
    private readonly pauseSeconds: number,
    private readonly tell: (leftSeconds: number | null) => void,
    private readonly begin: () => void,
  ) {}

  get isCounting(): boolean {
    return this.timer !== null;
  }

  start(): void {
    this.end();
    if (this.pauseSeconds <= 0) return;
    this.leftSeconds = this.pauseSeconds;
    this.timer = setInterval(() => this.count(), 1000);
    this.tell(this.leftSeconds);
  }

  /** Calls it off: the marks stay. */
  stay(): void {
    if (this.timer === null) return;
    this.end();
    this.tell(null);
  }

  /** Calls it off without a word, as something else begins. */
  end(): void {
    if (this.timer !== null) clearInterval(this.timer);
    this.timer = null;
  }

  private count(): void {
    this.leftSeconds--;
    if (this.leftSeconds > 0) {
      this.tell(this.leftSeconds);
      return;
    }
    this.end();
    this.begin();
  }
}
