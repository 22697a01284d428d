/**
 * The layouts of the project's fact sheet, section 1, as note names with hole 1 first, on the key of C. The mark in each
 * row is the sheet's own: [F n] published, [calc] arithmetic, [M] memory. Rows the sheet gives without octaves are written
 * here the same way.
 */
export interface LayoutTable {
  readonly id: string;
  readonly blow: string;
  readonly draw: string;
  readonly mark: string;
}

const MAJOR_BLOW = "C E G C E G C E G C";
const MINOR_BLOW = "C Eb G C Eb G C Eb G C";
const RAISED_BLOW = "C E A C E G C E G C";

// biome-ignore format: one row a layout
export const LAYOUT_TABLES: readonly LayoutTable[] = [
  { id: "standard", blow: "C4 E4 G4 C5 E5 G5 C6 E6 G6 C7", draw: "D4 G4 B4 D5 F5 A5 B5 D6 F6 A6", mark: "[F 1] [F 2]" },
  { id: "country", blow: MAJOR_BLOW, draw: "D G B D F# A B D F A", mark: "[F 1]" },
  { id: "major-seventh", blow: MAJOR_BLOW, draw: "D G B D F# A B D F# A", mark: "[F 1]" },
  { id: "raised-third-blow", blow: RAISED_BLOW, draw: "D G B D F A B D F A", mark: "[M] [calc]" },
  { id: "raised-third-blow-with-raised-fourths", blow: RAISED_BLOW, draw: "D G B D F# A B D F# A", mark: "[F 1]" },
  { id: "natural-minor-second-position", blow: MINOR_BLOW, draw: "D G Bb D F A Bb D F A", mark: "[F 4]" },
  { id: "natural-minor-first-position", blow: MINOR_BLOW, draw: "D G Bb D F Ab Bb D F Ab", mark: "[calc]" },
  { id: "harmonic-minor", blow: MINOR_BLOW, draw: "D G B D F Ab B D F Ab", mark: "[F 1] [F 4]" },
  { id: "dorian-second-position", blow: MAJOR_BLOW, draw: "D G Bb D F A Bb D F A", mark: "[M] [calc]" },
  { id: "solo-10", blow: "C4 E4 G4 C5 C5 E5 G5 C6 C6 E6", draw: "D4 F4 A4 B4 D5 F5 A5 B5 D6 F6", mark: "[F 1] for the rule" },
  { id: "solo-12", blow: "C4 E4 G4 C5 C5 E5 G5 C6 C6 E6 G6 C7", draw: "D4 F4 A4 B4 D5 F5 A5 B5 D6 F6 A6 B6", mark: "[calc]" },
  { id: "circular-from-the-fifth", blow: "G3 B3 D4 F4 A4 C5 E5 G5 B5 D6", draw: "A3 C4 E4 G4 B4 D5 F5 A5 C6 E6", mark: "[F 5]" },
  { id: "circular-from-the-key", blow: "C4 E4 G4 B4 D5 F5 A5 C6 E6 G6", draw: "D4 F4 A4 C5 E5 G5 B5 D6 F6 A6", mark: "[calc]" },
  { id: "diminished", blow: "C4 Eb4 Gb4 A4 C5 Eb5 Gb5 A5 C6 Eb6", draw: "D4 F4 Ab4 B4 D5 F5 Ab5 B5 D6 F6", mark: "[F 6] [calc]" },
  { id: "augmented", blow: "C4 E4 Ab4 C5 E5 Ab5 C6 E6 Ab6 C7", draw: "Eb4 G4 B4 Eb5 G5 B5 Eb6 G6 B6 Eb7", mark: "[M] [calc]" },
  { id: "extended-16", blow: "G C E G C E G C E G C E G C E G", draw: "B D G B D F A B D F A B D F A B", mark: "[F 1]" },
];
