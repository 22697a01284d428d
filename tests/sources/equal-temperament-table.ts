/**
 * Frequencies of equal-tempered notes at A4 = 440 Hz as printed, to two decimals, in the table of B. H. Suits,
 * "Physics of Music - Notes" (Michigan Technological University, 1998) [F].
 */
export const PRINTED_FREQUENCIES: readonly (readonly [name: string, hz: number])[] = [
  ["C3", 130.81],
  ["G3", 196.0],
  ["C4", 261.63],
  ["D4", 293.66],
  ["E4", 329.63],
  ["F4", 349.23],
  ["F#4", 369.99],
  ["G4", 392.0],
  ["A4", 440.0],
  ["B4", 493.88],
  ["C5", 523.25],
  ["A5", 880.0],
  ["C6", 1046.5],
  ["F#7", 2959.96],
  ["G7", 3135.96],
];
