import type { TapBlock } from "./tap-messages.ts";

/** Samples gathered before they are sent: about 10 ms, four blocks of the audio engine. */
const GATHER = 512;

/**
 * Gathers the audio engine's small blocks into larger ones, each with its place on the clock.
 *
 * The clock an audio worklet reads may stand still for a block or two while the window joins or parts sound nodes, though
 * the samples come one after another all the while: a frame behind the count is therefore no news. A frame ahead of it
 * means that samples were left out.
 */
export class BlockGatherer {
  private readonly gathered = new Float32Array(GATHER);
  private count = 0;
  private firstFrame = 0;
  /** Frame of the next sample if none is left out; null before the first. */
  private nextFrame: number | null = null;

  constructor(private readonly send: (block: TapBlock) => void) {}

  /** @param frame what the clock says of the first of the samples, at most 512 */
  take(frame: number, samples: Float32Array): void {
    const isFurther = this.nextFrame === null || frame > this.nextFrame;
    const here = this.nextFrame === null || isFurther ? frame : this.nextFrame;
    if (isFurther || this.count + samples.length > GATHER) this.flush();
    if (this.count === 0) this.firstFrame = here;
    this.gathered.set(samples, this.count);
    this.count += samples.length;
    this.nextFrame = here + samples.length;
    if (this.count === GATHER) this.flush();
  }

  private flush(): void {
    if (this.count > 0) this.send({ frame: this.firstFrame, samples: this.gathered.slice(0, this.count) });
    this.count = 0;
  }
}
