/** `kind` of MusicXML 4.0 (kind-value) and how a chord symbol says it. The first row of a suffix is how it is written. */
const ROWS: readonly (readonly [suffix: string, kind: string])[] = [
  ["", "major"],
  ["m", "minor"],
  ["7", "dominant"],
  ["maj7", "major-seventh"],
  ["m7", "minor-seventh"],
  ["dim", "diminished"],
  ["aug", "augmented"],
  ["dim7", "diminished-seventh"],
  ["aug7", "augmented-seventh"],
  ["m7b5", "half-diminished"],
  ["mmaj7", "major-minor"],
  ["6", "major-sixth"],
  ["m6", "minor-sixth"],
  ["9", "dominant-ninth"],
  ["maj9", "major-ninth"],
  ["m9", "minor-ninth"],
  ["11", "dominant-11th"],
  ["13", "dominant-13th"],
  ["sus4", "suspended-fourth"],
  ["sus", "suspended-fourth"],
  ["sus2", "suspended-second"],
  ["5", "power"],
  ["min", "minor"],
  ["min7", "minor-seventh"],
];

export interface ChordParts {
  readonly root: string;
  readonly suffix: string;
  readonly bass: string | null;
}

/** "F#m7/C#" -> F#, m7, C#; null where the text is no chord symbol. */
export function chordParts(symbol: string): ChordParts | null {
  const match = /^([A-G](?:#|b)?)([^/\s]*)(?:\/([A-G](?:#|b)?))?$/.exec(symbol.trim());
  if (match === null) return null;
  const [, root = "", suffix = "", bass] = match;
  return { root, suffix, bass: bass ?? null };
}

/** The kind of a suffix; "other" where MusicXML has none for it. */
export function kindOfSuffix(suffix: string): string {
  return ROWS.find(([one]) => one === suffix)?.[1] ?? "other";
}

/** How a symbol says a kind; null where we do not know it. */
export function suffixOfKind(kind: string): string | null {
  return ROWS.find(([, one]) => one === kind)?.[0] ?? null;
}
