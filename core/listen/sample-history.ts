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
    const a = Math.max(from, this.first);
    const b = Math.min(from + out.length, this.end);
    if (a >= b) {
      out.fill(0);
      return;
    }
    out.fill(0, 0, a - from);
    out.set(this.held.subarray(a - this.first, b - this.first), a - from);
    out.fill(0, b - from);
  }

  /** A view of samples `from`..`to` as far as they are held; the next `push` may overwrite it. */
  view(from: number, to: number): Float64Array {
    return this.held.subarray(
      Math.max(0, from - this.first),
      Math.max(0, Math.min(this.count, to - this.first)),
    );
  }
}
