/**
 * The reed-like voice of this program: strengths of the harmonics, the first being 1.
 * Chosen by ear and by the free reed's known traits, many strong harmonics that fall off slowly (Cottingham,
 * "Modes of reed vibration"); the numbers themselves are ours.
 */
export const REED_HARMONICS: readonly number[] = [
  1, 0.72, 0.58, 0.42, 0.36, 0.27, 0.21, 0.17, 0.13, 0.11, 0.09, 0.07, 0.06, 0.05, 0.04, 0.03,
];

/** Time from silence to full strength; low reeds speak later than high ones. Common practice, no source. */
export function attackSeconds(midiNumber: number): number {
  const low = 48;
  const high = 96;
  const share = Math.min(1, Math.max(0, (midiNumber - low) / (high - low)));
  return 0.03 - 0.017 * share;
}

/** Time from full strength to silence when the breath turns or the mouth moves on. */
export const RELEASE_SECONDS = 0.018;
