/** Shorter runs of exact zeros occur in quiet passages; longer ones are silence that somebody may have meant. */
const SHORTEST_SECONDS = 0.001;
const LONGEST_SECONDS = 0.025;
/** Sound is compared over this long on both sides of a run. */
const EDGE_SECONDS = 0.002;
/** A reed fades when it stops and grows when it starts: sound that is cut off keeps this share of its level. */
const ABRUPT_SHARE = 0.5;
/** Quieter sound than this (-60 dBFS) is not worth mending. */
const LEAST_RMS = 0.001;

/**
 * Bridges the dropouts of a sound driver: a buffer of exact zeros in the midst of a sounding note, which would
 * otherwise be heard as the note struck twice. Only zeros cut abruptly out of sound are bridged, by repeating what
 * sounded just before; anything else passes unchanged, in the same order and number.
 */
export class DropoutMender {
  private readonly shortest: number;
  private readonly longest: number;
  private readonly edge: number;
  /** The newest samples passed on, oldest first. */
  private before: number[] = [];
  /** Zeros held back, and the samples after them until it is clear what they are. */
  private zeros = 0;
  private after: number[] = [];

  constructor(sampleRateHz: number) {
    this.shortest = Math.round(SHORTEST_SECONDS * sampleRateHz);
    this.longest = Math.round(LONGEST_SECONDS * sampleRateHz);
    this.edge = Math.round(EDGE_SECONDS * sampleRateHz);
  }

  /** @returns the samples that are clear by now; the rest follows with later calls */
  push(samples: Float32Array): Float32Array {
    if (this.zeros === 0 && !samples.includes(0)) return this.passAll(samples);
    const out: number[] = [];
    for (const sample of samples) this.take(sample, out);
    return Float32Array.from(out);
  }

  /** @returns what was held back */
  finish(): Float32Array {
    const out: number[] = [];
    this.letGo(out, false);
    return Float32Array.from(out);
  }

  /** The usual case, without a zero in sight. */
  private passAll(samples: Float32Array): Float32Array {
    if (samples.length >= this.longest) this.before = Array.from(samples.subarray(-this.longest));
    else this.before.push(...samples);
    this.trim();
    return samples;
  }

  private take(sample: number, out: number[]): void {
    if (this.zeros > 0 && this.after.length > 0) {
      this.after.push(sample);
      if (this.after.length === this.edge) this.letGo(out, this.isDropout());
    } else if (sample === 0) {
      this.zeros++;
      if (this.zeros > this.longest) this.letGo(out, false);
    } else if (this.zeros >= this.shortest) this.after.push(sample);
    else {
      this.letGo(out, false);
      this.pass(sample, out);
    }
  }

  private isDropout(): boolean {
    const cut = rms(this.before.slice(-this.edge));
    const steady = rms(this.before.slice(-this.longest));
    const again = rms(this.after);
    return cut >= LEAST_RMS && cut >= ABRUPT_SHARE * steady && again >= ABRUPT_SHARE * cut;
  }

  /** Passes on the zeros held back, as they are or bridged, and what came after them. */
  private letGo(out: number[], bridged: boolean): void {
    const { zeros, after } = this;
    const last = this.before.slice(-zeros);
    this.zeros = 0;
    this.after = [];
    for (let i = 0; i < zeros; i++) this.pass(bridged ? (last[i % last.length] ?? 0) : 0, out);
    for (const sample of after) this.pass(sample, out);
  }

  private pass(sample: number, out: number[]): void {
    out.push(sample);
    this.before.push(sample);
    this.trim();
  }

  /** Now and then, not with every sample. */
  private trim(): void {
    if (this.before.length > 2 * this.longest) this.before = this.before.slice(-this.longest);
  }
}

function rms(samples: readonly number[]): number {
  return Math.sqrt(samples.reduce((sum, sample) => sum + sample * sample, 0) / Math.max(1, samples.length));
}
