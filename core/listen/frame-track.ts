/** A column of numbers, one a frame: all of them, or only the newest. */
class Column {
  private values: Float32Array;
  length = 0;

  /** @param kept how many of the newest are kept, a power of two; null for all */
  constructor(private readonly kept: number | null) {
    this.values = new Float32Array(kept ?? 4096);
  }

  push(value: number): void {
    if (this.kept === null && this.length === this.values.length) {
      const larger = new Float32Array(2 * this.length);
      larger.set(this.values);
      this.values = larger;
    }
    this.values[this.placeOf(this.length++)] = value;
  }

  /** NaN for a frame that is not held. */
  at(i: number): number {
    if (i < this.first || i >= this.length) return Number.NaN;
    return this.values[this.placeOf(i)] as number;
  }

  /** Number of the oldest frame held. */
  get first(): number {
    return this.kept === null ? 0 : Math.max(0, this.length - this.kept);
  }

  private placeOf(i: number): number {
    return this.kept === null ? i : i % this.kept;
  }
}

/** 82 s of frames 5 ms apart: longer than any note one breath can hold. */
const NEWEST_FRAMES = 16_384;

/** What was measured in every frame of a take, a column each. */
export class FrameTrack {
  /** Fractional MIDI; NaN where there was no estimate. */
  readonly midi: Column;
  readonly clarity: Column;
  /** Level of the pitch window. */
  readonly levelDb: Column;
  /** Level of the short window. */
  readonly shortDb: Column;
  /** Level of the room as known by then. */
  readonly floorDb: Column;

  /** @param all whether all frames are kept, or the newest 82 s, so that memory stays flat */
  constructor(all: boolean) {
    const column = () => new Column(all ? null : NEWEST_FRAMES);
    this.midi = column();
    this.clarity = column();
    this.levelDb = column();
    this.shortDb = column();
    this.floorDb = column();
  }

  get length(): number {
    return this.midi.length;
  }

  /** Number of the oldest frame held. */
  get first(): number {
    return this.midi.first;
  }
}
