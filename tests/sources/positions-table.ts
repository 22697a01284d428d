/** The positions table of the fact sheet, section 4 [F 22; calc], on a standard C harp. */
export interface PositionRow {
  readonly position: number;
  readonly home: string;
  readonly mode: string | null;
  /** Home reeds in tab, where they are plain; for positions 7 to 11 the easiest way to each home note. */
  readonly homeReeds: readonly string[];
  /** Natural notes missing within the harp's range: F4, A4, B6. */
  readonly missing: readonly string[];
}

// biome-ignore format: one row a position
export const POSITION_TABLE: readonly PositionRow[] = [
  { position: 1, home: "C", mode: "major", homeReeds: ["1", "4", "7", "10"], missing: ["low 4", "low 6", "top 7"] },
  { position: 2, home: "G", mode: "mixolydian", homeReeds: ["-2", "3", "6", "9"], missing: ["low b7", "low 2", "top 3"] },
  { position: 3, home: "D", mode: "dorian", homeReeds: ["-1", "-4", "-8"], missing: ["low b3", "low 5", "top 6"] },
  { position: 4, home: "A", mode: "minor", homeReeds: ["-6", "-10"], missing: ["low b6", "low 1", "top 2"] },
  { position: 5, home: "E", mode: "phrygian", homeReeds: ["2", "5", "8"], missing: ["low b2", "low 4", "top 5"] },
  { position: 6, home: "B", mode: "locrian", homeReeds: ["-3", "-7"], missing: ["low b5", "low b7", "top 1"] },
  { position: 7, home: "F#", mode: null, homeReeds: ["-2'", "5o", "9'"], missing: [] },
  { position: 8, home: "Db", mode: null, homeReeds: ["-1'", "-4'", "-7o"], missing: [] },
  { position: 9, home: "Ab", mode: null, homeReeds: ["-3'''", "-6'", "-9o"], missing: [] },
  { position: 10, home: "Eb", mode: null, homeReeds: ["1o", "4o", "8'"], missing: [] },
  { position: 11, home: "Bb", mode: null, homeReeds: ["-3'", "6o", "10''"], missing: [] },
  { position: 12, home: "F", mode: "lydian", homeReeds: ["-5", "-9"], missing: ["low 1", "low 3", "top #4"] },
];
