import { Listener } from "../../core/listen/listen-to-take.ts";
import type { Listening } from "../../core/listen/listening.ts";
import type { TapBlock } from "./tap-messages.ts";

/** A finished recording. */
export interface FinishedTake {
  readonly firstFrame: number;
  readonly samples: Float32Array;
  /** Samples the clock counted but that never came; filled with silence, so that times stay true. */
  readonly lostSamples: number;
  readonly listening: Listening;
}

export interface BlockReading {
  readonly pitchMidi: number | null;
  readonly levelDbfs: number;
  readonly clipped: boolean;
}

/** Between takes the ear is renewed this often, so that it never grows. */
const RENEW_SECONDS = 20;
/** A reading counts as clipped from here: the largest 16-bit value, as the listening engine has it. */
const FULL_SCALE = 32767 / 32768;

/** Records and listens at once: what the listening worker does with each block of samples. */
export class TakeRecorder {
  private ear: Listener;
  private heardSamples = 0;
  private blocks: Float32Array[] | null = null;
  private firstFrame: number | null = null;
  private nextFrame = 0;
  private lost = 0;

  constructor(private readonly sampleRateHz: number) {
    this.ear = new Listener(sampleRateHz);
  }

  start(): void {
    this.renew();
    this.blocks = [];
    this.firstFrame = null;
    this.lost = 0;
  }

  cancel(): void {
    this.blocks = null;
    this.renew();
  }

  /** @returns null if no take was running or nothing came in */
  stop(): FinishedTake | null {
    const { blocks, firstFrame } = this;
    this.blocks = null;
    if (blocks === null || firstFrame === null) return null;
    const listening = this.ear.finish();
    this.renew();
    return { firstFrame, samples: joined(blocks), lostSamples: this.lost, listening };
  }

  take(block: TapBlock): BlockReading {
    if (this.blocks !== null) this.keep(block, this.blocks);
    else if (this.heardSamples > RENEW_SECONDS * this.sampleRateHz) this.renew();
    this.hear(block.samples);
    return this.read(block.samples);
  }

  private keep(block: TapBlock, blocks: Float32Array[]): void {
    if (this.firstFrame === null) this.firstFrame = block.frame;
    else if (block.frame > this.nextFrame) {
      const gap = new Float32Array(block.frame - this.nextFrame);
      this.lost += gap.length;
      blocks.push(gap);
      this.hear(gap);
    }
    blocks.push(block.samples);
    this.nextFrame = block.frame + block.samples.length;
  }

  private hear(samples: Float32Array): void {
    this.ear.push(samples);
    this.heardSamples += samples.length;
  }

  private read(samples: Float32Array): BlockReading {
    const frame = this.ear.liveFrame;
    const pitched = frame?.voiced === true && frame.pitchHz !== null;
    return {
      pitchMidi: pitched && frame.pitchHz !== null ? 69 + 12 * Math.log2(frame.pitchHz / 440) : null,
      levelDbfs: frame?.levelDbfs ?? Number.NEGATIVE_INFINITY,
      clipped: samples.some((sample) => Math.abs(sample) >= FULL_SCALE),
    };
  }

  private renew(): void {
    this.ear = new Listener(this.sampleRateHz);
    this.heardSamples = 0;
  }
}

function joined(blocks: readonly Float32Array[]): Float32Array {
  const whole = new Float32Array(blocks.reduce((sum, block) => sum + block.length, 0));
  let at = 0;
  for (const block of blocks) {
    whole.set(block, at);
    at += block.length;
  }
  return whole;
}
