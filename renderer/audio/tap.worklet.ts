import { BlockGatherer } from "./block-gatherer.ts";
import { TAP, type TapCommand } from "./tap-messages.ts";

/** Hands every incoming sample, with its place on the clock, to the port it was given. */
class Tap extends AudioWorkletProcessor {
  private gatherer: BlockGatherer | null = null;
  private ended = false;

  constructor() {
    super();
    this.port.onmessage = ({ data }: MessageEvent<TapCommand>) => {
      if (data.kind === "end") this.ended = true;
      else this.gatherer = new BlockGatherer((block) => data.port.postMessage(block, [block.samples.buffer]));
    };
  }

  /** @returns false once ended: only then does the browser let go of the tap */
  process(inputs: readonly (readonly Float32Array[])[]): boolean {
    if (this.ended) return false;
    const samples = inputs[0]?.[0];
    // Until a source is connected, and while it is away, there is no channel.
    if (samples !== undefined) this.gatherer?.take(currentFrame, samples);
    return true;
  }
}

registerProcessor(TAP, Tap);
