/** "12 min"; what is less than one is said so. */
export function minutesInWords(practisedMs: number): string {
  if (practisedMs === 0) return "0 min";
  return practisedMs < 60_000 ? "< 1 min" : `${Math.round(practisedMs / 60_000)} min`;
}
