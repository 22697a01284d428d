import { seededRandom } from "../../../core/exercise/seeded-random.ts";

export const NOTE_SECONDS = 0.25;
const BAR = [60, 62, 64, 65, 67, 69, 71, 72, 74, 72, 71, 69, 67, 65, 64, 62] as const;
export const BAR_SECONDS = BAR.length * NOTE_SECONDS;
const ROOM_RMS = 0.0003;

/** Sixteen quavers, reed-like, each a whole number of samples apart, over the noise of a quiet room. */
export function barOfNotes(rate: number): Float32Array {
  const random = seededRandom(1);
  const samples = Float32Array.from({ length: BAR_SECONDS * rate }, () => ROOM_RMS * (2 * random() - 1));
  for (const [place, midi] of BAR.entries()) {
    const from = Math.round(place * NOTE_SECONDS * rate);
    const hz = 440 * 2 ** ((midi - 69) / 12);
    for (let i = 0; i < (NOTE_SECONDS - 0.015) * rate; i++) {
      const at = i / rate;
      const level = Math.min(1, at / 0.02, (NOTE_SECONDS - 0.015 - at) / 0.015);
      let tone = 0;
      for (let k = 1; k <= 12; k++) tone += k ** -0.7 * Math.sin(2 * Math.PI * k * hz * at + k * k);
      samples[from + i] = (samples[from + i] ?? 0) + 0.05 * level * tone;
    }
  }
  return samples;
}
