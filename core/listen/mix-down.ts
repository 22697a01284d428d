/** Channels whose mean keeps less than this share of the loudest one's power work against each other. */
const CANCELLED_SHARE = 0.1;

/** One channel from several. */
export interface MixedDown {
  readonly samples: Float32Array;
  /** True where the mean would have been all but silence and the loudest channel was taken instead. */
  readonly cancelled: boolean;
}

/**
 * The mean of all channels; but a balanced microphone on a stereo jack records the same sound twice, once upside down,
 * and its mean is silence: then the loudest channel alone.
 *
 * @param length    samples in each channel
 * @param channels  number of channels, >= 1
 * @param readFrame writes the samples of frame i, one a channel, into its second argument
 */
export function mixDown(
  length: number,
  channels: number,
  readFrame: (i: number, out: Float64Array) => void,
): MixedDown {
  const frame = new Float64Array(channels);
  const powers = new Float64Array(channels);
  const samples = new Float32Array(length);
  let meanPower = 0;
  for (let i = 0; i < length; i++) {
    readFrame(i, frame);
    let sum = 0;
    for (let c = 0; c < channels; c++) {
      const value = frame[c] as number;
      sum += value;
      powers[c] = (powers[c] as number) + value * value;
    }
    const mean = sum / channels;
    samples[i] = mean;
    meanPower += mean * mean;
  }
  const loudest = powers.indexOf(powers.reduce((most, power) => Math.max(most, power), 0));
  const cancelled = meanPower < CANCELLED_SHARE * (powers[loudest] as number);
  if (cancelled) {
    for (let i = 0; i < length; i++) {
      readFrame(i, frame);
      samples[i] = frame[loudest] as number;
    }
  }
  return { samples, cancelled };
}
