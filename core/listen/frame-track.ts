/** A column of numbers that grows with the take. */
class Column {
  private values = new Float32Array(4096);
  length = 0;

  push(value: number): void {
    if (this.length === this.values.length) {
      const larger = new Float32Array(2 * this.length);
      larger.set(this.values);
      this.values = larger;
    }
    this.values[this.length++] = value;
  }

  at(i: number): number {
    return this.values[i] ?? Number.NaN;
  }

  set(i: number, value: number): void {
    this.values[i] = value;
  }
}

/** What was measured in every frame of a take, a column each. */
export class FrameTrack {
  /** Fractional MIDI; NaN where there was no estimate. */
  readonly midi = new Column();
  readonly clarity = new Column();
  /** Level of the pitch window. */
  readonly levelDb = new Column();
  /** Level of the short window. */
  readonly shortDb = new Column();
  /** Level of the room as known by then. */
  readonly floorDb = new Column();

  get length(): number {
    return this.midi.length;
  }
}
