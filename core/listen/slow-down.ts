/** Half of the pieces that are joined. A piece of 30 ms holds four periods of the lowest reed, C3. */
const HALF_PIECE_SECONDS = 0.015;
/** A piece may be taken from so far beside its place: more than a period of the lowest reed, so that one always fits. */
const REACH_SECONDS = 0.01;
/** The place is looked for in sums of four samples, then to the sample. */
const COARSE = 4;
const SLOWEST = 0.25;

/**
 * Makes a sound slower and leaves its pitch: overlapping pieces are laid down further apart than they were taken, each
 * taken where it goes on most like the piece before. What is played at a second t of the sound is heard at t / speed in
 * the result, to 10 ms of the sound.
 *
 * @param samples      one channel
 * @param sampleRateHz 8,000..192,000
 * @param speed        0.25 to 1; 0.5 is half speed, 1 gives the sound back as it was
 * @param onProgress   told now and then which share, 0..1, is done
 * @returns samples at the same rate, samples.length / speed of them, rounded
 * @throws RangeError for another speed
 *
 * Source: WSOLA (Verhelst and Roelands, "An overlap-add technique based on waveform similarity", ICASSP 1993), with
 * normalised cross-correlation. Differs: where the piece before simply goes on within reach, nothing is looked for, as
 * nothing can be more like it.
 */
export function slowDown(
  samples: Float32Array,
  sampleRateHz: number,
  speed: number,
  onProgress?: (share: number) => void,
): Float32Array {
  if (!(speed >= SLOWEST && speed <= 1)) {
    throw new RangeError(`a speed of ${speed} is not between ${SLOWEST} and 1`);
  }
  const half = COARSE * Math.round((HALF_PIECE_SECONDS * sampleRateHz) / COARSE);
  const reach = COARSE * Math.round((REACH_SECONDS * sampleRateHz) / COARSE);
  const slowed = new Float32Array(Math.round(samples.length / speed));
  const pieces = new Pieces(samples, half, reach);
  const fade = risingHalf(half);
  const count = Math.ceil(slowed.length / half) + 1;
  for (let piece = 0, before = -half; piece < count; piece++) {
    const at = pieces.nextAfter(before, Math.round(piece * half * speed));
    pieces.addTo(slowed, piece * half, at, fade);
    before = at;
    if (piece % PIECES_A_REPORT === 0) onProgress?.(piece / count);
  }
  return slowed;
}

const PIECES_A_REPORT = 256;

/** The rising half of a Hann window: with its mirror image it adds up to 1 everywhere. */
function risingHalf(length: number): Float32Array {
  return Float32Array.from({ length }, (_, i) => 0.5 - 0.5 * Math.cos((Math.PI * i) / length));
}

/** The sound with silence around it, and where its pieces are to be taken. Places are samples of the sound. */
class Pieces {
  private readonly padded: Float32Array;
  /** Sums of `COARSE` samples each. */
  private readonly coarse: Float32Array;
  private readonly margin: number;

  constructor(
    samples: Float32Array,
    private readonly half: number,
    private readonly reach: number,
  ) {
    this.margin = 4 * (half + reach);
    this.padded = new Float32Array(samples.length + 2 * this.margin);
    this.padded.set(samples, this.margin);
    this.coarse = new Float32Array(Math.floor(this.padded.length / COARSE));
    for (let i = 0; i < this.coarse.length; i++) {
      let sum = 0;
      for (let j = COARSE * i; j < COARSE * (i + 1); j++) sum += this.padded[j] as number;
      this.coarse[i] = sum;
    }
  }

  /** Middle of the next piece: within reach of `wanted`, where the sound is most like what follows the piece before. */
  nextAfter(before: number, wanted: number): number {
    const goesOn = before + this.half;
    if (Math.abs(goesOn - wanted) <= this.reach) return goesOn;
    const near = this.mostAlikeCoarse(goesOn, wanted);
    return this.mostAlike(this.padded, goesOn, 1, near - COARSE, near + COARSE, near);
  }

  private mostAlikeCoarse(goesOn: number, wanted: number): number {
    return this.mostAlike(
      this.coarse,
      goesOn,
      COARSE,
      wanted - this.reach,
      wanted + this.reach,
      wanted - this.reach,
    );
  }

  /**
   * The place whose piece correlates best, normalised, with the piece at `goesOn`; `otherwise` where there is only silence.
   *
   * @param sums what to look in: a value for each `grain` samples
   */
  private mostAlike(
    sums: Float32Array,
    goesOn: number,
    grain: number,
    from: number,
    to: number,
    otherwise: number,
  ): number {
    const length = (2 * this.half) / grain;
    const start = (place: number) => Math.round((place - this.half + this.margin) / grain);
    const wanted = start(goesOn);
    let best = otherwise;
    let most = 0;
    let energy = energyOf(sums, start(from), length);
    for (let place = from; place <= to; place += grain) {
      const at = start(place);
      const product = productOf(sums, wanted, at, length);
      const alike = product <= 0 || energy <= 0 ? 0 : (product * product) / energy;
      if (alike > most) {
        most = alike;
        best = place;
      }
      energy += (sums[at + length] as number) ** 2 - (sums[at] as number) ** 2;
    }
    return best;
  }

  /** Adds the piece with its middle at `at`, faded in and out, with its middle at `middle` of the result. */
  addTo(result: Float32Array, middle: number, at: number, fade: Float32Array): void {
    const { half, padded } = this;
    const from = at + this.margin;
    for (let i = 0; i < half; i++) {
      const rising = fade[i] as number;
      const before = middle - half + i;
      if (before >= 0 && before < result.length)
        result[before] = (result[before] as number) + rising * (padded[from - half + i] as number);
      const after = middle + i;
      if (after < result.length)
        result[after] = (result[after] as number) + (1 - rising) * (padded[from + i] as number);
    }
  }
}

function energyOf(sums: Float32Array, from: number, length: number): number {
  let energy = 0;
  for (let i = from; i < from + length; i++) energy += (sums[i] as number) ** 2;
  return energy;
}

function productOf(sums: Float32Array, a: number, b: number, length: number): number {
  let product = 0;
  for (let i = 0; i < length; i++) product += (sums[a + i] as number) * (sums[b + i] as number);
  return product;
}
