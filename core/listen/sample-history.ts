/** The newest samples of a stream, addressed by their number since its start. Memory stays bounded. */
export class SampleHistory {
  private held: Float64Array;
  private first = 0;
  private count = 0;
  private readonly keep: number;

  /** @param keep how many samples back may still be asked for */
  constructor(keep: number) {
    this.keep = keep;
    this.held = new Float64Array(4 * keep);
  }

  /** Samples received since the start. */
  get end(): number {
    return this.first + this.count;
  }

  /** Number of the oldest sample still held. */
  get start(): number {
    return this.first;
  }

  /** @param chunk at most `keep` samples */
  push(chunk: Float64Array): void {
    if (this.count + chunk.length > this.held.length) {
      const drop = this.count - this.keep;
      this.held.copyWithin(0, drop, this.count);
      this.first += drop;
      this.count = this.keep;
    }
    this.held.set(chunk, this.count);
    this.count += chunk.length;
  }

  /** Fills `out` from sample number `from` on; silence before the start and after the end. */
  copy(from: number, out: Float64Array): void {
    const { held, first } = this;
    const a = Math.max(from, first);
    const b = Math.min(from + out.length, this.end);
    if (a > from || b < from + out.length) out.fill(0);
    // Windows are too short for the built-in copying, which needs a view, to pay.
    for (let i = a; i < b; i++) out[i - from] = held[i - first] as number;
  }

  /** Mean square of samples `from`..`from + count`; silence before the start and after the end. */
  meanSquare(from: number, count: number): number {
    const { held, first } = this;
    const b = Math.min(from + count, this.end);
    let sum = 0;
    for (let i = Math.max(from, first); i < b; i++) {
      const sample = held[i - first] as number;
      sum += sample * sample;
    }
    return sum / count;
  }

  /** A view of samples `from`..`to` as far as they are held; the next `push` may overwrite it. */
  view(from: number, to: number): Float64Array {
    return this.held.subarray(
      Math.max(0, from - this.first),
      Math.max(0, Math.min(this.count, to - this.first)),
    );
  }
}
