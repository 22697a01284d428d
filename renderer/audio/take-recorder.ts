import type { KnownReeds } from "../../core/listen/known-reeds.ts";
import { type Keeping, Listener, withChords } from "../../core/listen/listen-to-take.ts";
import type { Listening } from "../../core/listen/listening.ts";
import { hzToMidi } from "../../core/pitch/equal-temperament.ts";
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
  /** Frame of the clock in the middle of the window that the reading rests on: a little before the block. */
  readonly frame: number;
  readonly pitchMidi: number | null;
  readonly levelDbfs: number;
  /** Level of the second reed in a note that has just ended, in dB against it; null where none sounded. */
  readonly secondReedDb: number | null;
}

/** A second reed is told for so long after its note. */
const TOLD_SECONDS = 1;

/** Records and listens at once: what the listening worker does with each block of samples. */
export class TakeRecorder {
  private ear: Listener;
  /** Frame of the first sample the present ear was given; null before any. */
  private earFrame: number | null = null;
  private blocks: Float32Array[] | null = null;
  private firstFrame: number | null = null;
  private nextFrame = 0;
  private lost = 0;
  private known: KnownReeds | null = null;

  /** @throws RangeError for a sample rate that cannot be listened to */
  constructor(private readonly sampleRateHz: number) {
    this.ear = new Listener(sampleRateHz, "nothing");
  }

  /** @param known reeds of the instrument in hand, or null to listen without knowing it */
  start(known: KnownReeds | null = null): void {
    this.renew("everything", known);
    this.known = known;
    this.blocks = [];
    this.firstFrame = null;
    this.lost = 0;
  }

  cancel(): void {
    this.blocks = null;
    this.renew("nothing");
  }

  /** @returns null if no take was running or nothing came in */
  stop(): FinishedTake | null {
    const { blocks, firstFrame } = this;
    this.blocks = null;
    if (blocks === null || firstFrame === null) return null;
    const samples = joined(blocks);
    const listening = withChords(this.ear.finish(), samples, this.sampleRateHz, this.known);
    this.renew("nothing");
    return { firstFrame, samples, lostSamples: this.lost, listening };
  }

  take(block: TapBlock): BlockReading {
    if (this.blocks !== null) this.keep(block, this.blocks);
    // Not told of samples that never came, its clock would go wrong.
    else if (this.earFrame !== null && block.frame !== this.nextFrame) this.renew("nothing");
    this.earFrame ??= block.frame;
    this.ear.push(block.samples);
    this.nextFrame = block.frame + block.samples.length;
    return this.read(block, this.earFrame);
  }

  private keep(block: TapBlock, blocks: Float32Array[]): void {
    if (this.firstFrame === null) this.firstFrame = block.frame;
    else if (block.frame > this.nextFrame) {
      const gap = new Float32Array(block.frame - this.nextFrame);
      this.lost += gap.length;
      blocks.push(gap);
      this.ear.push(gap);
    }
    blocks.push(block.samples);
  }

  private read(block: TapBlock, earFrame: number): BlockReading {
    const live = this.ear.liveFrame;
    if (live === null)
      return { frame: block.frame, pitchMidi: null, levelDbfs: Number.NEGATIVE_INFINITY, secondReedDb: null };
    return {
      frame: earFrame + Math.round(live.atSeconds * this.sampleRateHz),
      pitchMidi: live.voiced && live.pitchHz !== null ? hzToMidi(live.pitchHz) : null,
      levelDbfs: live.levelDbfs,
      secondReedDb: this.secondReedDb(live.atSeconds),
    };
  }

  private secondReedDb(nowSeconds: number): number | null {
    const last = this.ear.lastLeak;
    return last !== null && nowSeconds - last.offSeconds < TOLD_SECONDS ? last.leak.levelDb : null;
  }

  /** Between takes the ear keeps nothing, so that it never grows. */
  private renew(keeping: Keeping, known: KnownReeds | null = null): void {
    this.ear = new Listener(this.sampleRateHz, keeping, known);
    this.earFrame = null;
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
