import type { SevenMode } from "../pitch/modes.ts";
import {
  fifthsOfKey,
  type Letter,
  lettersApart,
  type Signature,
  signatureOfFifths,
} from "./key-signature.ts";
import type { Metre, Tune, TuneKey } from "./tune.ts";

/** ABC 2.1, 3.1.14. */
const MODE_WORDS: Readonly<Record<SevenMode, string>> = {
  major: "",
  dorian: "dor",
  phrygian: "phr",
  lydian: "lyd",
  mixolydian: "mix",
  minor: "min",
  locrian: "loc",
};

/** What stands behind the tonic in a K: field. */
export const abcModeWord = (mode: SevenMode): string => MODE_WORDS[mode];

/** ABC 2.1, section 3: the letter of each field. */
const FIELD_LETTERS: Readonly<Record<string, string>> = {
  composer: "C",
  origin: "O",
  source: "S",
  book: "B",
  discography: "D",
  file: "F",
  group: "G",
  history: "H",
  notes: "N",
  transcription: "Z",
};

/** Lines of an ABC header, X: first and K: last; the unit length is a quaver. ABC 2.1, section 3. */
export function abcHeader(tune: Tune): readonly string[] {
  const lines = [`X:${tune.number}`, `T:${abcText(tune.title)}`];
  for (const title of tune.otherTitles) lines.push(`T:${abcText(title)}`);
  for (const { kind, text } of tune.fields) {
    const letter = FIELD_LETTERS[kind];
    if (letter !== undefined) lines.push(`${letter}:${abcText(text)}`);
    else if (kind === "copyright") lines.push(`%%abc-copyright ${abcText(text)}`);
  }
  if (tune.rhythm !== null) lines.push(`R:${abcText(tune.rhythm)}`);
  lines.push(`M:${abcMetre(tune.metre)}`, "L:1/8");
  // A tempo we only supposed is not the file's to say.
  if (tune.tempoFrom === "tune") lines.push(`Q:${tune.tempo.noteValue}=${tune.tempo.bpm}`);
  lines.push(`K:${abcKey(tune.key)}`);
  return lines;
}

export const abcMetre = (metre: Metre | null): string =>
  metre === null ? "none" : `${metre.beats}/${metre.unit}`;

/** One line of text: a percent sign would begin a comment, a backslash or ampersand a special character (ABC 2.1, 8.2). */
export function abcText(text: string): string {
  return text
    .replace(/[\s\p{Cc}]+/gu, " ")
    .trim()
    .replace(/[\\%&]/g, "\\$&");
}

const SIGNS: Readonly<Record<number, string>> = { [-2]: "__", [-1]: "_", 0: "=", 1: "^", 2: "^^" };

/** What stands after K:, so that the signature is exactly the key's. */
export function abcKey(key: TuneKey): string {
  const fifths = key.mode === null ? null : fifthsOfKey(key.tonic, key.mode);
  if (key.mode === null || fifths === null) {
    const all = accidentals(lettersApart(key.signature, {}), key.signature);
    return all.length === 0 ? "none" : [key.tonic, "exp", ...all].join(" ");
  }
  const extra = accidentals(lettersApart(key.signature, signatureOfFifths(fifths)), key.signature);
  return [key.tonic + abcModeWord(key.mode), ...extra].join(" ");
}

function accidentals(letters: readonly Letter[], signature: Signature): readonly string[] {
  return letters.map((letter) => (SIGNS[signature[letter] ?? 0] ?? "=") + letter.toLowerCase());
}
