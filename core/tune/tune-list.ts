import { isNamed } from "../pitch/modes.ts";
import type { Tempo } from "./tempo.ts";
import type { Metre, Tune, TuneKey } from "./tune.ts";

/** What a list shows of a tune and what it is found by. Small: a list may hold twenty thousand. */
export interface TuneLine {
  readonly title: string;
  readonly otherTitles: readonly string[];
  /** "D mixolydian"; the mode is left out where it is not known. */
  readonly key: string;
  /** "6/8"; empty for a free metre. */
  readonly metre: string;
  /** "slip jig"; empty where the dance is not known. */
  readonly dance: string;
  /** Letters of the first notes without octave, "A d f a" as "ADFA". */
  readonly begins: string;
  /** As the tune has it; absent in lines kept before it was. */
  readonly tempo?: Tempo;
}

const FIRST_NOTES = 24;

export function tuneLine(tune: Tune): TuneLine {
  return {
    title: tune.title,
    otherTitles: tune.otherTitles,
    key: keyInWords(tune.key),
    metre: metreInWords(tune.metre),
    dance: tune.dance === null ? (tune.rhythm ?? "") : tune.dance.replace("-", " "),
    begins: tune.notes
      .slice(0, FIRST_NOTES)
      .map((note) => note.name.charAt(0))
      .join(""),
    tempo: tune.tempo,
  };
}

/** "A dorian". */
export function keyInWords({ tonic, mode }: TuneKey): string {
  return mode === null || !isNamed(mode) ? tonic : `${tonic} ${mode}`;
}

/** "6/8"; empty for a free metre. */
export const metreInWords = (metre: Metre | null): string =>
  metre === null ? "" : `${metre.beats}/${metre.unit}`;

/** So many letters of notes are a beginning and not a word. */
const FEWEST_NOTES = 4;

/**
 * The lines that hold every word of a query: in a title, the key, the metre or the dance; or, of four letters A to G and
 * more, in the first notes. Case, accents and punctuation do not matter.
 *
 * @param query what was typed; an empty one finds all
 */
export function findTunes<L extends TuneLine>(lines: readonly L[], query: string): readonly L[] {
  const words = plain(query)
    .split(" ")
    .filter((word) => word !== "");
  if (words.length === 0) return lines;
  return lines.filter((line) => {
    const text = searchText(line);
    return words.every((word) => text.includes(word) || isBeginning(word, line));
  });
}

const isBeginning = (word: string, line: TuneLine) =>
  word.length >= FEWEST_NOTES && /^[a-g]+$/.test(word) && line.begins.toLowerCase().includes(word);

/** Worked out once a line, while the list lives. */
const searchTexts = new WeakMap<TuneLine, string>();

function searchText(line: TuneLine): string {
  const known = searchTexts.get(line);
  if (known !== undefined) return known;
  const { title, otherTitles, key, metre, dance } = line;
  const text = plain([title, ...otherTitles, key, metre, dance].join(" "));
  searchTexts.set(line, text);
  return text;
}

/** Small letters without accents; anything but letters, digits, sharps and the stroke of a metre is a space. */
function plain(text: string): string {
  return text
    .normalize("NFKD")
    .replace(/\p{M}/gu, "")
    .toLowerCase()
    .replace(/['’]/g, "")
    .replace(/[^\p{L}\p{N}#/]+/gu, " ")
    .trim();
}
