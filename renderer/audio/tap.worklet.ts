import { TAP, type TapBlock, type TapCommand } from "./tap-messages.ts";

/** Samples gathered before they are sent: about 10 ms, four blocks of the audio engine. */
const GATHER = 512;

/** Hands every incoming sample, with its place on the clock, to the port it was given. */
class Tap extends AudioWorkletProcessor {
  private out: MessagePort | null = null;
  private ended = false;
  private gathered = new Float32Array(GATHER);
  private count = 0;
  private firstFrame = 0;

  constructor() {
    super();
    this.port.onmessage = ({ data }: MessageEvent<TapCommand>) => {
      if (data.kind === "connect") this.out = data.port;
      else this.ended = true;
    };
  }

  /** @returns false once ended: only then does the browser let go of the tap */
  process(inputs: readonly (readonly Float32Array[])[]): boolean {
    if (this.ended) return false;
    const samples = inputs[0]?.[0];
    // Until a source is connected, and while it is away, there is no channel.
    if (samples === undefined || this.out === null) return true;
    const expected = this.firstFrame + this.count;
    if (this.count > 0 && expected !== currentFrame) this.send();
    if (this.count === 0) this.firstFrame = currentFrame;
    this.gathered.set(samples, this.count);
    this.count += samples.length;
    if (this.count + samples.length > GATHER) this.send();
    return true;
  }

  private send(): void {
    const samples = this.gathered.slice(0, this.count);
    const block: TapBlock = { frame: this.firstFrame, samples };
    this.out?.postMessage(block, [samples.buffer]);
    this.count = 0;
  }
}

registerProcessor(TAP, Tap);
