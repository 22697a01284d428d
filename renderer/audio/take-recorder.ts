import { withHoles } from "../../core/listen/dropouts.ts";
import type { KnownReeds } from "../../core/listen/known-reeds.ts";
import { type Keeping, Listener, listenToTake, withChords } from "../../core/listen/listen-to-take.ts";
import type { Hole, Listening } from "../../core/listen/listening.ts";
import { hzToMidi } from "../../core/pitch/equal-temperament.ts";
import { type Seconds, seconds } from "../../core/units.ts";
import type { TakePiece, TapBlock } from "./tap-messages.ts";

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
/** So much is told at once of a running take: what is lost of it where the program ends in the middle. */
export const PIECE_SECONDS = 2;

/** A take that misses more in one place ends before it: nobody could say what was played there. */
const LONGEST_GAP_SECONDS = 1;

/** Records and listens at once: what the listening worker does with each block of samples. */
export class TakeRecorder {
  private ear: Listener;
  /** Frame of the first sample the present ear was given; null before any. */
  private earFrame: number | null = null;
  private blocks: Float32Array[] | null = null;
  private firstFrame: number | null = null;
  private nextFrame = 0;
  private lost = 0;
  private holes: Hole[] = [];
  private isBrokenOff = false;
  private known: KnownReeds | null = null;
  /** Blocks that were told in pieces, and samples since. */
  private toldBlocks = 0;
  private untold = 0;

  /**
   * @param onPiece told of the running take piece by piece; its last part is in no piece
   * @param onBrokenOff told once of a take that misses so many samples in one place that it ends before them
   * @throws RangeError for a sample rate that cannot be listened to
   */
  constructor(
    private readonly sampleRateHz: number,
    private readonly onPiece: ((piece: TakePiece) => void) | null = null,
    private readonly onBrokenOff: ((missingSamples: number) => void) | null = null,
  ) {
    this.ear = new Listener(sampleRateHz, "nothing");
  }

  /** @param known reeds of the instrument in hand, or null to listen without knowing it */
  start(known: KnownReeds | null = null): void {
    this.renew("everything", known);
    this.known = known;
    this.blocks = [];
    this.firstFrame = null;
    this.lost = 0;
    this.holes = [];
    this.isBrokenOff = false;
    this.toldBlocks = 0;
    this.untold = 0;
  }

  cancel(): void {
    this.blocks = null;
    this.isBrokenOff = false;
    this.renew("nothing");
  }

  /**
   * @param untilFrame of the clock, where the take is whole no longer; null for all of it
   * @returns null if no take was running or nothing of it is whole
   */
  stop(untilFrame: number | null = null): FinishedTake | null {
    const { blocks, firstFrame } = this;
    this.blocks = null;
    this.isBrokenOff = false;
    if (blocks === null || firstFrame === null) return null;
    const all = joined(blocks);
    const samples = untilFrame === null ? all : all.slice(0, Math.max(0, untilFrame - firstFrame));
    if (samples.length === 0) return null;
    // What was heard beyond the cut would tell of notes that are no longer in it.
    const listening =
      samples.length < all.length
        ? listenToTake(samples, this.sampleRateHz, undefined, this.known)
        : withChords(this.ear.finish(), samples, this.sampleRateHz, this.known);
    this.renew("nothing");
    return {
      firstFrame,
      samples,
      lostSamples: this.lost,
      listening: withHoles(listening, samples, this.sampleRateHz, this.holes),
    };
  }

  take(block: TapBlock): BlockReading {
    if (this.blocks !== null) this.keep(block, this.blocks);
    // Not told of samples that never came, its clock would go wrong.
    else if (this.earFrame !== null && block.frame !== this.nextFrame) this.renew("nothing");
    this.earFrame ??= block.frame;
    // What comes after a break is in no take, and was not heard for it.
    if (!this.isBrokenOff) this.ear.push(block.samples);
    this.nextFrame = block.frame + block.samples.length;
    return this.read(block, this.earFrame);
  }

  private keep(block: TapBlock, blocks: Float32Array[]): void {
    if (this.firstFrame === null) this.firstFrame = block.frame;
    else if (this.isBrokenOff) return;
    else if (block.frame - this.nextFrame >= LONGEST_GAP_SECONDS * this.sampleRateHz) {
      this.isBrokenOff = true;
      this.onBrokenOff?.(block.frame - this.nextFrame);
      return;
    } else if (block.frame > this.nextFrame) {
      const gap = new Float32Array(block.frame - this.nextFrame);
      this.lost += gap.length;
      const from = this.nextFrame - this.firstFrame;
      this.holes.push({ fromSeconds: this.at(from), toSeconds: this.at(from + gap.length) });
      blocks.push(gap);
      this.ear.push(gap);
      this.untold += gap.length;
    }
    blocks.push(block.samples);
    this.untold += block.samples.length;
    if (this.untold >= PIECE_SECONDS * this.sampleRateHz) this.tellPiece(blocks, this.firstFrame);
  }

  private tellPiece(blocks: readonly Float32Array[], firstFrame: number): void {
    this.onPiece?.({ firstFrame, samples: joined(blocks.slice(this.toldBlocks)) });
    this.toldBlocks = blocks.length;
    this.untold = 0;
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

  private at(sample: number): Seconds {
    return seconds(sample / this.sampleRateHz);
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
