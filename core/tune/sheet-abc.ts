import { type AbcLine, abcLines } from "./abc-body.ts";
import { abcHeader, abcText } from "./abc-header.ts";
import type { Tune } from "./tune.ts";

export interface SheetAbcOptions {
  /** Tab of each note of the tune, as many as it has; null where it has none. */
  readonly tabs: readonly (string | null)[];
  /** Places in `Tune.notes` after which a breath fits. */
  readonly breathAfter?: readonly number[];
  /** Lines under the title: the harp, the position. */
  readonly words?: readonly string[];
  /** What stands behind the key in K:, such as " clef=treble+8"; nothing where absent. */
  readonly clef?: string;
}

/** Fields that stand beside the title. */
const BESIDE_TITLE: readonly string[] = ["composer", "origin"];
/** Fields that stand under the tune, and what is put before them. */
const UNDER_TUNE: Readonly<Record<string, string>> = {
  source: "Source: ",
  book: "Book: ",
  transcription: "Transcription: ",
  copyright: "",
};

/**
 * A tune as ABC to be printed: as `writeAbc` writes it, with the tab under the notes as lyrics, a breath mark after every
 * note a breath fits after, further lines under the title, and of its fields the sources. Where a repeat is played otherwise than the first time, its
 * tab stands in a further line, as a second verse does.
 *
 * @returns the tune's lines, each ended by a line feed, the last too
 * @throws RangeError as `writeAbc` does
 */
export function sheetAbc(
  tune: Tune,
  { tabs, breathAfter = [], words = [], clef = "" }: SheetAbcOptions,
): string {
  const header = abcHeader({
    ...tune,
    fields: tune.fields.filter(({ kind }) => BESIDE_TITLE.includes(kind)),
    // On paper the dance's usual tempo is better than none.
    tempoFrom: tune.tempoFrom === "neither" ? "neither" : "tune",
  });
  const title = header.findIndex((line) => line.startsWith("T:")) + 1;
  const under = words.map((line) => `T:${abcText(line)}`);
  const music = linesThatFit(tune, new Set(breathAfter), tabs).flatMap(({ text, heads }) => [
    text,
    ...versesOf(heads, tabs).map((verse) => `w:${verse}`),
  ]);
  // ABC 2.1, 11.4.5: text that is printed with the tune.
  const below = tune.fields.flatMap(({ kind, text }) => {
    const label = UNDER_TUNE[kind];
    return label === undefined ? [] : [`%%text ${label}${abcText(text)}`];
  });
  return `${[...header.slice(0, title), ...under, ...header.slice(title, -1), header.at(-1) + clef, ...music, ...below].join("\n")}\n`;
}

const BARS_A_LINE = [4, 2, 1];
/** Of tab and the gaps between: so much stands on 18 cm in letters that can be read from a stand. */
const MOST_LETTERS = 110;

/** Four bars a line, or fewer where their tab would not find room. */
function linesThatFit(
  tune: Tune,
  breathAfter: ReadonlySet<number>,
  tabs: readonly (string | null)[],
): readonly AbcLine[] {
  const lettersOf = ({ heads }: AbcLine) =>
    heads.reduce((sum, passes) => sum + 1 + Math.max(1, ...passes.map((note) => tabs[note]?.length ?? 0)), 0);
  const ways = BARS_A_LINE.map((bars) => abcLines(tune, breathAfter, bars));
  const fitting = ways.find((lines) => lines.every((line) => lettersOf(line) <= MOST_LETTERS));
  return fitting ?? ways.at(-1) ?? [];
}

/** One line of tab for every way the line is played, without those that are the same. */
function versesOf(
  heads: readonly (readonly number[])[],
  tabs: readonly (string | null)[],
): readonly string[] {
  const times = Math.max(1, ...heads.map((passes) => passes.length));
  const verses = Array.from({ length: times }, (_, time) =>
    heads.map((passes) => abcSyllable(tabs[passes[time] ?? passes[0] ?? -1] ?? "")).join(" "),
  );
  return [...new Set(verses)].filter((verse) => /[^* ]/.test(verse));
}

/** ABC 2.1, 5.1: signs that mean something among syllables stand behind a backslash; `*` is a note without one. */
function abcSyllable(text: string): string {
  const syllable = text
    .trim()
    .replace(/[-_*|~\\%&]/g, "\\$&")
    .replace(/\s+/g, "~");
  return syllable === "" ? "*" : syllable;
}
