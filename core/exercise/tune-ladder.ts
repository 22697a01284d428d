import type { Phrase, Span } from "../tune/phrases.ts";
import { FASTEST, semibreves, type Tempo } from "../tune/tempo.ts";
import type { Tune } from "../tune/tune.ts";
import { type Bpm, bpm, type Milliseconds, milliseconds, ticks } from "../units.ts";

/** When a rung counts as climbed. */
export interface LadderRule {
  /** Least share of notes right in an attempt, 0.5 to 1. */
  readonly rightShare: number;
  /** Widest spread of the onsets about their mean, in milliseconds. */
  readonly spreadMs: Milliseconds;
  /** So many attempts in a row, 1 to 10. */
  readonly inARow: number;
  /** Shares of the dance tempo, 0.3 to 1, rising: of a phrase, of phrases joined, of a strain and the whole tune. */
  readonly tempoShares: { readonly phrase: number; readonly joined: number; readonly strain: number };
  /** Shares for the whole tune on the way to the dance. */
  readonly towardsDance: readonly number[];
}

/**
 * 80 to 90 per cent of bars clean, and two clean repeats before a step up: common practice, no source. 40 ms is where a
 * note begins to be called early or late on the sheet.
 */
export const USUAL_RULE: LadderRule = {
  rightShare: 0.9,
  spreadMs: milliseconds(40),
  inARow: 2,
  tempoShares: { phrase: 0.6, joined: 0.7, strain: 0.8 },
  towardsDance: [0.8, 0.9, 1],
};

export type RungKind = "listen" | "phrase" | "phrases joined" | "strain" | "whole tune";

/** One step of learning a tune. All but listening are ordinary exercises. */
export interface Rung {
  /** Says what is played and how fast; the same as long as tune, phrases and rule are. */
  readonly id: string;
  readonly kind: RungKind;
  /** "A 1–4". */
  readonly words: string;
  readonly span: Span;
  /** Of the dance tempo. */
  readonly tempoShare: number;
}

/** Phrase by phrase, joined, strain by strain, whole, and up to the dance. */
export function ladderOf(
  tune: Tune,
  phrases: readonly Phrase[],
  rule: LadderRule = USUAL_RULE,
): readonly Rung[] {
  const { phrase: slow, joined, strain: strainShare } = rule.tempoShares;
  const rungs = strainsOf(phrases).flatMap((strain) => {
    const steps = strain.flatMap((one, n) => {
      const before = strain[n - 1];
      return [
        rung("listen", one.words, one, 1),
        rung("phrase", one.words, one, slow),
        ...(before === undefined || strain.length < 3
          ? []
          : [rung("phrases joined", `${before.words} + ${one.words}`, joinedSpan(before, one), joined)]),
      ];
    });
    const [first, last] = [strain[0], strain.at(-1)];
    if (first === undefined || last === undefined || strain.length < 2) return steps;
    return [...steps, rung("strain", `strain ${first.strain}`, joinedSpan(first, last), strainShare)];
  });
  const whole = { startTicks: ticks(0), endTicks: endOf(tune) };
  return [...rungs, ...rule.towardsDance.map((share) => rung("whole tune", "whole tune", whole, share))];
}

/** Tempo of a rung: the share of the dance tempo, in whole beats. */
export const rungTempo = (dance: Bpm, { tempoShare }: Pick<Rung, "tempoShare">): Bpm =>
  bpm(Math.max(1, Math.round(dance * tempoShare)));

/** What one attempt at a rung gave. */
export interface RungResult {
  readonly rung: string;
  /** Share of expected notes that were right, 0..1. */
  readonly rightShare: number;
  /** Spread of the onsets; null where it could not be measured. */
  readonly spreadMs: Milliseconds | null;
  /** The tempo it was played at; the rung's own where absent. */
  readonly tempo?: Tempo;
}

export interface RungState {
  readonly rung: Rung;
  readonly state: "climbed" | "now" | "later";
  /** Attempts in a row, the last ones, that met the rule. */
  readonly inARow: number;
  readonly attempts: number;
}

/**
 * Whether an attempt meets the rule. A spread that could not be measured does not hold anyone back; a tempo slower than the
 * rung's does.
 *
 * @param wanted the rung's tempo; null to take any
 */
export const meets = (result: RungResult, rule: LadderRule, wanted: Tempo | null = null): boolean =>
  result.rightShare >= rule.rightShare - 1e-9 &&
  (result.spreadMs ?? 0) <= rule.spreadMs &&
  (wanted === null || result.tempo === undefined || isAsFast(result.tempo, wanted));

/** Half a beat a minute is rounding; and nothing is played faster than `FASTEST`, in the note value it is counted in. */
function isAsFast(played: Tempo, wanted: Tempo): boolean {
  const asked = (wanted.bpm * semibreves(wanted.noteValue)) / semibreves(played.noteValue);
  return played.bpm >= Math.min(asked, FASTEST) - 0.5;
}

/**
 * Where the player stands: a rung is climbed once so many attempts in a row met the rule, and stays so; the first that is not
 * is the one now.
 *
 * @param results oldest first
 * @param heard   ids of the rungs of kind "listen" that were heard to the end
 * @param dance   the tempo the ladder leads to: attempts slower than a rung asks for do not climb it; null to take any tempo
 */
export function ladderState(
  ladder: readonly Rung[],
  results: readonly RungResult[],
  heard: ReadonlySet<string>,
  rule: LadderRule = USUAL_RULE,
  dance: Tempo | null = null,
): readonly RungState[] {
  let found = false;
  return ladder.map((one) => {
    const own = results.filter(({ rung: id }) => id === one.id);
    const wanted = dance === null ? null : { ...dance, bpm: rungTempo(dance.bpm, one) };
    const { longest, last } = rows(own.map((result) => meets(result, rule, wanted)));
    const climbed = one.kind === "listen" ? heard.has(one.id) : longest >= rule.inARow;
    const state = climbed ? "climbed" : found ? "later" : "now";
    found ||= !climbed;
    return { rung: one, state, inARow: last, attempts: own.length };
  });
}

/** Longest row of true, and the one at the end. */
function rows(met: readonly boolean[]): { longest: number; last: number } {
  let [longest, last] = [0, 0];
  for (const one of met) {
    last = one ? last + 1 : 0;
    longest = Math.max(longest, last);
  }
  return { longest, last };
}

/** What the id of a rung says. */
export type RungId = Pick<Rung, "kind" | "span" | "tempoShare">;

const RUNG_ID = /^(listen|phrase|phrases joined|strain|whole tune) (\d+)-(\d+) at (\d+) %$/;

/** Null for what is no id of a rung, as of a stretch practised by itself. */
export function readRungId(id: string): RungId | null {
  const [, kind, start, end, percent] = RUNG_ID.exec(id) ?? [];
  if (kind === undefined) return null;
  const span = { startTicks: ticks(Number(start)), endTicks: ticks(Number(end)) };
  return { kind: kind as RungKind, span, tempoShare: Number(percent) / 100 };
}

function rung(kind: RungKind, words: string, { startTicks, endTicks }: Span, tempoShare: number): Rung {
  const id = `${kind} ${startTicks}-${endTicks} at ${Math.round(100 * tempoShare)} %`;
  return { id, kind, words, span: { startTicks, endTicks }, tempoShare };
}

/** Phrases of one strain on end; another ending stands for itself. */
function strainsOf(phrases: readonly Phrase[]): readonly (readonly Phrase[])[] {
  const strains: Phrase[][] = [];
  for (const phrase of phrases) {
    const open = strains.at(-1);
    const last = open?.at(-1);
    if (open !== undefined && last?.strain === phrase.strain && last.endTicks === phrase.startTicks)
      open.push(phrase);
    else strains.push([phrase]);
  }
  return strains;
}

const joinedSpan = (one: Span, other: Span): Span => ({
  startTicks: one.startTicks,
  endTicks: other.endTicks,
});

const endOf = (tune: Tune) =>
  ticks(tune.notes.reduce((end, note) => Math.max(end, note.startTicks + note.lengthTicks), 0));
