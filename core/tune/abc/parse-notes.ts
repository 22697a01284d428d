import Parse, { type AbcjsElement, type AbcjsPitch } from "abcjs/src/parse/abc_parse.js";

/** A pitch as written: steps of the scale above middle C, and its own accidental in semitones, null if it has none. */
export interface WrittenPitch {
  readonly steps: number;
  readonly accidental: number | null;
}

/** A note, chord or rest as written. */
export interface ParsedNote {
  /** Characters of the text it takes. */
  readonly start: number;
  readonly end: number;
  /** Length in unit notes; a chord has that of its first note. */
  readonly units: number;
  /** Empty for a rest. */
  readonly pitches: readonly (WrittenPitch & { readonly tied: boolean })[];
}

/** Every tune is given to the parser with the same header: what fields change is applied by us afterwards. */
const HEADER = "X:1\nL:1/8\nK:C\n";
const UNIT = 1 / 8;

const ACCIDENTALS: Readonly<Record<string, number>> = {
  sharp: 1,
  dblsharp: 2,
  flat: -1,
  dblflat: -2,
  natural: 0,
};

/**
 * Notes, chords, rests and ties of a line of music, by the parser of abcjs.
 *
 * @param music nothing but those, all else replaced by spaces
 * @returns in order; null if the parser broke down
 */
export function parseNotes(music: string): readonly ParsedNote[] | null {
  const { text, placeOf } = withoutRuns(music);
  try {
    const parser = new Parse();
    parser.parse(`${HEADER}${text}`, {}, -HEADER.length);
    return parser
      .getTune()
      .lines.flatMap((line) => line.staff?.[0]?.voices[0] ?? [])
      .filter((element) => element.el_type === "note")
      .map((element) => parsedNote(element, placeOf));
  } catch {
    clearParser();
    return null;
  }
}

/**
 * One space for every run of them: the parser's time grows with the square of a run.
 *
 * @returns the shorter text, and where each of its characters stood
 */
function withoutRuns(music: string): { readonly text: string; readonly placeOf: Int32Array } {
  const placeOf = new Int32Array(music.length + 1);
  const kept: string[] = [];
  for (let at = 0; at < music.length; at++) {
    const sign = music[at] ?? " ";
    if (sign === " " && (kept.length === 0 || kept.at(-1) === " ")) continue;
    placeOf[kept.length] = at;
    kept.push(sign);
  }
  placeOf[kept.length] = music.length;
  return { text: kept.join(""), placeOf };
}

/** The parser keeps half a note in a variable of its module: after a breakdown it would go into the next tune. */
function clearParser(): void {
  try {
    new Parse().parse(`${HEADER}C`, {}, 0);
  } catch {
    // What is left over then belongs to no note.
  }
}

function parsedNote(element: AbcjsElement, placeOf: Int32Array): ParsedNote {
  return {
    start: placeOf[element.startChar] ?? 0,
    end: (placeOf[element.endChar - 1] ?? 0) + 1,
    units: (element.duration ?? 0) / UNIT,
    pitches: (element.pitches ?? []).map((pitch) => ({
      ...writtenPitch(pitch),
      tied: pitch.startTie !== undefined,
    })),
  };
}

function writtenPitch({ pitch, accidental }: AbcjsPitch): WrittenPitch {
  return { steps: pitch, accidental: accidental === undefined ? null : (ACCIDENTALS[accidental] ?? 0) };
}
