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
  /** The newest samples passed on, the last `longest` of them at least. */
  private readonly before: Float32Array;
  private beforeCount = 0;
  /** Zeros held back, and the samples after them until it is clear what they are. */
  private zeros = 0;
  private readonly after: Float32Array;
  private afterCount = 0;
  private out = new Float32Array(0);
  private outCount = 0;

  constructor(sampleRateHz: number) {
    this.shortest = Math.round(SHORTEST_SECONDS * sampleRateHz);
    this.longest = Math.round(LONGEST_SECONDS * sampleRateHz);
    this.edge = Math.round(EDGE_SECONDS * sampleRateHz);
    this.before = new Float32Array(4 * this.longest);
    this.after = new Float32Array(this.edge);
  }

  /** @returns the samples that are clear by now, good until the next call; the rest follows with later calls */
  push(samples: Float32Array): Float32Array {
    // The usual case, without a zero in sight.
    if (this.zeros === 0 && !samples.includes(0)) {
      this.remember(samples);
      return samples;
    }
    this.makeRoom(samples.length);
    for (let at = 0; at < samples.length; ) at = this.step(samples, at);
    return this.out.subarray(0, this.outCount);
  }

  /** @returns what was held back */
  finish(): Float32Array {
    this.makeRoom(0);
    this.letGo(false);
    return this.out.subarray(0, this.outCount);
  }

  private makeRoom(more: number): void {
    const needed = this.zeros + this.afterCount + more;
    if (needed > this.out.length) this.out = new Float32Array(needed);
    this.outCount = 0;
  }

  /** Deals with the samples from `at` on that are of one kind; returns where the next kind begins. */
  private step(samples: Float32Array, at: number): number {
    if (this.afterCount > 0) return this.gatherAfter(samples, at);
    if (this.zeros > 0 || samples[at] === 0) return this.gatherZeros(samples, at);
    const zero = samples.indexOf(0, at);
    const end = zero < 0 ? samples.length : zero;
    this.pass(samples.subarray(at, end));
    return end;
  }

  private gatherAfter(samples: Float32Array, at: number): number {
    const end = Math.min(samples.length, at + this.edge - this.afterCount);
    this.after.set(samples.subarray(at, end), this.afterCount);
    this.afterCount += end - at;
    if (this.afterCount === this.edge) this.letGo(this.isDropout());
    return end;
  }

  private gatherZeros(samples: Float32Array, at: number): number {
    let next = at;
    while (next < samples.length && samples[next] === 0 && this.zeros <= this.longest) {
      this.zeros++;
      next++;
    }
    if (this.zeros > this.longest) this.letGo(false);
    else if (next < samples.length) {
      if (this.zeros < this.shortest) this.letGo(false);
      else this.after[this.afterCount++] = samples[next++] as number;
    }
    return next;
  }

  private isDropout(): boolean {
    const cut = rms(this.newest(this.edge));
    const steady = rms(this.newest(this.longest));
    const again = rms(this.after);
    return cut >= LEAST_RMS && cut >= ABRUPT_SHARE * steady && again >= ABRUPT_SHARE * cut;
  }

  /** Passes on the zeros held back, as they are or bridged, and what came after them. */
  private letGo(bridged: boolean): void {
    const gap = new Float32Array(this.zeros);
    if (bridged) {
      const last = this.newest(this.zeros);
      for (let i = 0; i < gap.length; i++) gap[i] = last[i % last.length] ?? 0;
    }
    const after = this.after.slice(0, this.afterCount);
    this.zeros = 0;
    this.afterCount = 0;
    this.pass(gap);
    this.pass(after);
  }

  private pass(samples: Float32Array): void {
    this.out.set(samples, this.outCount);
    this.outCount += samples.length;
    this.remember(samples);
  }

  private remember(samples: Float32Array): void {
    const newest = samples.subarray(Math.max(0, samples.length - this.longest));
    if (this.beforeCount + newest.length > this.before.length) {
      this.before.copyWithin(0, this.beforeCount - this.longest, this.beforeCount);
      this.beforeCount = this.longest;
    }
    this.before.set(newest, this.beforeCount);
    this.beforeCount += newest.length;
  }

  /** At most `count` of the samples passed on last, oldest first. */
  private newest(count: number): Float32Array {
    return this.before.slice(Math.max(0, this.beforeCount - count), this.beforeCount);
  }
}

function rms(samples: Float32Array): number {
  return Math.sqrt(samples.reduce((sum, sample) => sum + sample * sample, 0) / Math.max(1, samples.length));
}
