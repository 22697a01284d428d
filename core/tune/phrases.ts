import { type Ticks, ticks } from "../units.ts";
import type { Tune, TuneBar } from "./tune.ts";

/** A stretch of a tune in playing order, from a note to before another. */
export interface Span {
  readonly startTicks: Ticks;
  readonly endTicks: Ticks;
}

export interface Phrase extends Span {
  /** Place in the tune, from 0. */
  readonly index: number;
  /** The strain it begins in. */
  readonly strain: string;
  /** Its bars within the strain, counted from 1, an upbeat not counted: "A 1–4". */
  readonly words: string;
}

/** How many bars a phrase has: two answer two, four are half a strain, eight a strain of most dances. */
export const PHRASE_BARS = [2, 4, 8] as const;
export type PhraseBars = (typeof PHRASE_BARS)[number];

/**
 * The phrases of a tune, each once: what a repeat plays again is not a phrase of its own.
 *
 * Strains are cut every so many whole bars. A strain's upbeat belongs to the phrase it starts, and where the strain begins
 * with one, so does each phrase in it that has notes there (trade practice, no source). A rest within half a bar before a
 * bar line ends the phrase before it. Another ending is learned with the bars that lead to it.
 */
export function phrasesOf(tune: Tune, phraseBars: PhraseBars): readonly Phrase[] {
  const found = sectionsOf(tune).flatMap((section) => cut(tune, section, phraseBars));
  return found.map((phrase, index) => ({ ...phrase, index }));
}

/** Bars played for the first time, one after another, of one strain. */
interface Section {
  readonly bars: readonly TuneBar[];
  /** Bars of the same strain played again just before these: what leads to another ending. */
  readonly leading: readonly TuneBar[];
}

function sectionsOf({ bars }: Tune): readonly Section[] {
  const sections: { bars: TuneBar[]; leading: TuneBar[] }[] = [];
  let leading: TuneBar[] = [];
  for (const bar of bars) {
    if (bar.pass > 0) {
      leading = leading.at(-1)?.strain === bar.strain ? [...leading, bar] : [bar];
      continue;
    }
    const open = sections.at(-1);
    const last = open?.bars.at(-1);
    if (open !== undefined && last?.index === bar.index - 1 && last.strain === bar.strain)
      open.bars.push(bar);
    else sections.push({ bars: [bar], leading: leading.at(-1)?.strain === bar.strain ? leading : [] });
    leading = [];
  }
  return sections;
}

type Cut = Omit<Phrase, "index">;

function cut(tune: Tune, section: Section, phraseBars: PhraseBars): readonly Cut[] {
  const whole = section.bars.filter(isCounted);
  if (section.leading.length > 0 && whole.length < phraseBars) return ending(tune, section, phraseBars);
  const upbeat = upbeatOf(section.bars);
  const cuts: number[] = [];
  for (let at = phraseBars; at < whole.length; at += phraseBars) cuts.push(at);
  // Half a phrase or less at the end belongs to the one before it.
  if (whole.length - (cuts.at(-1) ?? 0) <= phraseBars / 2) cuts.pop();
  const places = [0, ...cuts, whole.length];
  const begins = [
    startOf(section.bars[0]),
    ...cuts.map((at) => boundary(tune, startOf(whole[at]), upbeat, whole[at]?.lengthTicks ?? 0)),
    endOf(section.bars.at(-1)),
  ];
  return places.slice(1).flatMap((until, n) => {
    const span = { startTicks: ticks(begins[n] ?? 0), endTicks: ticks(begins[n + 1] ?? 0) };
    return phrase(tune, span, section.bars[0]?.strain ?? "", (places[n] ?? 0) + 1, until);
  });
}

/** Bars of another ending, behind those that lead to it. */
function ending(tune: Tune, { bars, leading }: Section, phraseBars: PhraseBars): readonly Cut[] {
  const led = leading.filter(isCounted);
  const whole = bars.filter(isCounted);
  const lead = led.slice(-(phraseBars - whole.length));
  const [first] = [...lead, ...bars];
  const start = boundary(tune, startOf(first), upbeatOf(leading), first?.lengthTicks ?? 0);
  const span = { startTicks: ticks(start), endTicks: ticks(endOf(bars.at(-1))) };
  const from = led.length - lead.length + 1;
  return phrase(tune, span, bars[0]?.strain ?? "", from, led.length + whole.length);
}

/** Nothing where no note begins. */
function phrase(tune: Tune, span: Span, strain: string, from: number, to: number): readonly Cut[] {
  const { startTicks, endTicks } = span;
  if (!tune.notes.some((note) => note.startTicks >= startTicks && note.startTicks < endTicks)) return [];
  return [{ ...span, strain, words: to <= from ? `${strain} ${from}` : `${strain} ${from}–${to}` }];
}

const isCounted = (bar: TuneBar) => bar.kind !== "pick-up";
const startOf = (bar: TuneBar | undefined) => bar?.startTicks ?? 0;
const endOf = (bar: TuneBar | undefined) => (bar === undefined ? 0 : bar.startTicks + bar.lengthTicks);
const upbeatOf = (bars: readonly TuneBar[]) => (bars[0]?.kind === "pick-up" ? bars[0].lengthTicks : 0);

/** Where a phrase begins that starts at a bar line: at its upbeat where a note begins there, else behind a rest, else there. */
function boundary(tune: Tune, barLine: number, upbeat: number, barTicks: number): number {
  if (upbeat > 0 && tune.notes.some((note) => note.startTicks === barLine - upbeat)) return barLine - upbeat;
  const after = tune.notes.find((note, n) => {
    const before = tune.notes[n - 1];
    const silentFrom = before === undefined ? 0 : before.startTicks + before.lengthTicks;
    return (
      note.startTicks >= barLine - barTicks / 2 && note.startTicks <= barLine && silentFrom < note.startTicks
    );
  });
  return after?.startTicks ?? barLine;
}

/** The phrase at a place joined with the next; unchanged where there is none. */
export function joinWithNext(phrases: readonly Phrase[], index: number): readonly Phrase[] {
  const [one, other] = [phrases[index], phrases[index + 1]];
  if (one === undefined || other === undefined) return phrases;
  const joined = { ...one, endTicks: other.endTicks, words: joinedWords(one, other) };
  return renumbered([...phrases.slice(0, index), joined, ...phrases.slice(index + 2)]);
}

/** The phrase cut before the note that begins at `atTicks`; unchanged where that is not inside it. */
export function splitAt(phrases: readonly Phrase[], index: number, atTicks: Ticks): readonly Phrase[] {
  const phrase = phrases[index];
  if (phrase === undefined || atTicks <= phrase.startTicks || atTicks >= phrase.endTicks) return phrases;
  const parts = [
    { ...phrase, endTicks: atTicks, words: `${phrase.words}, first part` },
    { ...phrase, startTicks: atTicks, words: `${phrase.words}, second part` },
  ];
  return renumbered([...phrases.slice(0, index), ...parts, ...phrases.slice(index + 1)]);
}

function joinedWords(one: Phrase, other: Phrase): string {
  const [first, last] = [/^(\S+) (\d+)/.exec(one.words), /^(\S+) (?:\d+–)?(\d+)$/.exec(other.words)];
  if (first === null || last === null || first[1] !== last[1]) return `${one.words} + ${other.words}`;
  return `${first[1]} ${first[2]}–${last[2]}`;
}

const renumbered = (phrases: readonly Phrase[]): readonly Phrase[] =>
  phrases.map((phrase, index) => ({ ...phrase, index }));
