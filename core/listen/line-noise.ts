import { selectInPlace } from "./median.ts";
import { FIT_TURNS, type NoteSpectrum } from "./note-spectrum.ts";

/** Noise is measured in bands this wide, in turns per window ... */
const BAND_TURNS = 40;
/** ... by the quantile that the lines of another sound do not reach. */
const NOISE_QUANTILE = 0.3;
/** [calc] The 0.3 quantile of an exponential distribution is -ln(0.7) times its mean. */
const QUANTILE_OF_MEAN = -Math.log(1 - NOISE_QUANTILE);
const FEWEST_BINS = 6;
/** Below the smallest step of 24 bits. */
const LEAST = 1e-14;
const FEWEST_SIDES = 4;
/** Skirts are followed in steps of this. */
const SKIRT_TURNS = 0.5;

/**
 * Writes what each bin holds on average where no other reed sounds: the noise of the room, and around the note's
 * harmonics what its wavering and its echo leave there.
 *
 * @param noise receives squared amplitudes, 0..spectrum.bins
 */
export function measureNoise(spectrum: NoteSpectrum, noise: Float64Array): void {
  measureRoom(spectrum, noise);
  addSkirts(spectrum, noise);
}

/** Room for the values of one band, or of one distance from every harmonic. */
const scratch = new Float64Array(1024);

function measureRoom({ bins, left, clear, binsPerTurn }: NoteSpectrum, noise: Float64Array): void {
  const band = Math.max(8, Math.round(BAND_TURNS * binsPerTurn));
  // Neighbouring bins of a padded spectrum say the same.
  const step = Math.max(1, Math.floor(binsPerTurn));
  let mean = LEAST;
  for (let from = 0; from <= bins; from += band) {
    const end = Math.min(from + band, bins + 1);
    let count = 0;
    for (let j = from; j < end; j += step) if (clear[j] === 1) scratch[count++] = left[j] as number;
    if (count >= FEWEST_BINS) {
      const low = selectInPlace(scratch, count, Math.floor(NOISE_QUANTILE * (count - 1)));
      mean = Math.max(LEAST, low / QUANTILE_OF_MEAN);
    }
    noise.fill(mean, from, end);
  }
}

/** What surrounds every harmonic alike belongs to the note; the lines of another reed stand at each elsewhere. */
function addSkirts({ bins, left, powers, spacing, binsPerTurn }: NoteSpectrum, noise: Float64Array): void {
  const furthest = spacing / 2 / binsPerTurn;
  for (let turns = FIT_TURNS; turns <= furthest; turns += SKIRT_TURNS) {
    let count = 0;
    for (let h = 0; h < powers.length; h++) {
      const power = powers[h] as number;
      if (!(power > 0)) continue;
      const below = Math.round((h + 1) * spacing - turns * binsPerTurn);
      if (below <= bins) scratch[count++] = ((left[below] as number) - (noise[below] as number)) / power;
      const above = Math.round((h + 1) * spacing + turns * binsPerTurn);
      if (above <= bins) scratch[count++] = ((left[above] as number) - (noise[above] as number)) / power;
    }
    const share = count < FEWEST_SIDES ? 0 : selectInPlace(scratch, count, count >> 1);
    if (!(share > 0)) continue;
    for (let h = 0; h < powers.length; h++) {
      for (let side = -turns; side <= turns; side += 2 * turns) {
        const from = Math.ceil((h + 1) * spacing + (side - SKIRT_TURNS / 2) * binsPerTurn);
        const end = Math.min(bins, Math.ceil((h + 1) * spacing + (side + SKIRT_TURNS / 2) * binsPerTurn) - 1);
        for (let j = from; j <= end; j++) noise[j] = (noise[j] as number) + share * (powers[h] as number);
      }
    }
  }
}
