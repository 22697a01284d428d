import { namer } from "../pitch/note-names.ts";
import { abcMetre } from "./abc-header.ts";
import { type FoldedBar, foldRepeats } from "./fold-repeats.ts";
import { spellingsOfKey } from "./key-signature.ts";
import { NoteWriter } from "./note-writer.ts";
import { decorationAbc } from "./ornament-abc.ts";
import { type StaffSign, staffSigns } from "./staff-signs.ts";
import { type Metre, type Ornament, TICKS_PER_SEMIBREVE, type Tune, type TuneBar } from "./tune.ts";
import { isCompound, metreTicks } from "./written-bar.ts";

const QUAVER = TICKS_PER_SEMIBREVE / 8;
const BARS_A_LINE = 4;

/** A line of music of a tune's body. */
export interface AbcLine {
  readonly text: string;
  /**
   * The notes in it as written, tied ones each by itself: for every time it is played the place in `Tune.notes`, first time
   * first; empty for a note that only goes on.
   */
  readonly heads: readonly (readonly number[])[];
}

/**
 * The lines of music of a tune, a line for every four whole bars where no other number is given, and a new one wherever a section begins.
 *
 * @param breathAfter places in `Tune.notes` a breath mark follows (ABC 2.1, 4.14)
 * @throws RangeError if notes overlap or a note's name has more than two accidentals
 */
export function abcLines(
  tune: Tune,
  breathAfter: ReadonlySet<number> = NO_BREATHS,
  barsALine: number = BARS_A_LINE,
): readonly AbcLine[] {
  return new BodyWriter(tune, breathAfter).lines(barsALine);
}

const NO_BREATHS: ReadonlySet<number> = new Set();

class BodyWriter {
  readonly #tune: Tune;
  readonly #signs: readonly (readonly StaffSign[])[];
  readonly #notes = new NoteWriter();
  readonly #nameOf: (midi: TuneMidi) => string;
  /** Numbers of written notes: a repeat breathes where it breathed before. */
  readonly #breathAfter: ReadonlySet<number>;
  #metre: Metre | null;

  constructor(tune: Tune, breathAfter: ReadonlySet<number>) {
    this.#tune = tune;
    this.#breathAfter = new Set([...breathAfter].flatMap((index) => tune.notes[index]?.written ?? []));
    this.#signs = staffSigns(tune);
    this.#nameOf = namer(spellingsOfKey(tune.key));
    this.#metre = tune.metre;
  }

  lines(barsALine: number): readonly AbcLine[] {
    const folded = foldRepeats(this.#tune);
    const lines: AbcLine[] = [];
    let line = "";
    let heads: (readonly number[])[] = [];
    let whole = 0;
    for (const [at, bar] of folded.entries()) {
      const next = folded[at + 1];
      const kind = this.#played(bar)?.kind;
      if (kind === "whole" || kind === "irregular") whole++;
      // An upbeat before a repeat sign has no line of its own.
      const ends = bar.repeatTo > 0 || (whole > 0 && (bar.doubleBar || (next?.repeatFrom ?? 0) > 0));
      const barLine = !ends && (next?.repeatFrom ?? 0) > 0 ? "" : ` ${endOf(bar, next)}`;
      line += `${line === "" ? "" : " "}${this.#bar(bar)}${barLine}`;
      heads.push(...this.#heads(bar));
      if (whole < barsALine && !ends) continue;
      lines.push({ text: line, heads });
      line = "";
      heads = [];
      whole = 0;
    }
    return line === "" ? lines : [...lines, { text: line, heads }];
  }

  /** Bars that are played alike have the same signs. */
  #heads(bar: FoldedBar): readonly (readonly number[])[] {
    const passes = bar.passes.map((pass) => (this.#signs[pass] ?? []).filter(({ note }) => note !== null));
    return (passes[0] ?? []).map((sign, at) =>
      sign.tiedFrom ? [] : passes.flatMap((signs) => signs[at]?.note?.index ?? []),
    );
  }

  #played(bar: FoldedBar): TuneBar | undefined {
    return this.#tune.bars[bar.passes[0] ?? -1];
  }

  #bar(folded: FoldedBar): string {
    const bar = this.#played(folded);
    if (bar === undefined) throw new RangeError(`there is no bar ${folded.passes[0]}`);
    const start = startOf(folded) + this.#metreChange(bar.metre);
    this.#notes.startBar(this.#tune.key.signature);
    const group = beamTicks(bar.metre);
    // An upbeat is beamed from its end, as if its bar were whole.
    const missing = bar.kind === "pick-up" && bar.metre ? metreTicks(bar.metre) - bar.lengthTicks : 0;
    let text = "";
    for (const sign of this.#signs[bar.index] ?? []) {
      const apart = (sign.atTicks + missing) % group === 0 || sign.lengthTicks >= 2 * QUAVER;
      text += (apart && text !== "" && !insideTuplet(sign) ? " " : "") + this.#sign(sign);
    }
    return start + text;
  }

  #metreChange(metre: Metre | null): string {
    if (abcMetre(metre) === abcMetre(this.#metre)) return "";
    this.#metre = metre;
    return `[M:${abcMetre(metre)}] `;
  }

  /** ABC 2.1, 4.20: grace notes, chord symbols, decorations, accidentals, note, octave, length. */
  #sign(sign: StaffSign): string {
    const { note, tiedFrom } = sign;
    const tuplet = tupletStart(sign);
    const symbols = sign.symbols.map((symbol) => `"${symbol.replace(/["\s]+/g, " ").trim()}"`).join("");
    const length = abcLength(sign);
    if (note === null) return `${tuplet}${symbols}z${length}`;
    const ornaments = tiedFrom ? [] : note.ornaments;
    const graces = ornaments.map((one) => (one.kind === "after-grace" ? "" : this.#graces(one))).join("");
    const breath = !sign.tiedOn && this.#breathAfter.has(note.written) ? "!breath!" : "";
    const decorations = ornaments.map(decorationAbc).join("") + breath;
    const names = [...(note.chord ?? []).map(this.#nameOf), note.name];
    const written = names.map((name) => this.#notes.write(name, tiedFrom));
    const heads = written.length > 1 ? `[${written.join("")}]` : written.join("");
    const after = sign.tiedOn ? [] : note.ornaments.filter(({ kind }) => kind === "after-grace");
    const end = sign.tiedOn ? "-" : after.map((one) => this.#graces(one)).join("");
    return `${tuplet}${graces}${symbols}${decorations}${heads}${length}${end}`;
  }

  #graces({ notes }: Ornament): string {
    if (notes.length === 0) return "";
    return `{${notes.map(({ name }) => this.#notes.writeGrace(name)).join("")}}`;
  }
}

type TuneMidi = Tune["notes"][number]["midi"];

const insideTuplet = ({ tuplet }: StaffSign) => tuplet !== null && tuplet.at > 0;

function startOf(bar: FoldedBar): string {
  const opens = bar.repeatFrom > 0 ? `|${":".repeat(bar.repeatFrom - 1)} ` : "";
  return bar.ending === null ? opens : `${opens}[${bar.ending.join(",")} `;
}

function endOf(bar: FoldedBar, next: FoldedBar | undefined): string {
  if (bar.repeatTo > 0) return `${":".repeat(bar.repeatTo - 1)}|`;
  if (next === undefined) return "|]";
  return bar.doubleBar ? "||" : "|";
}

/** ABC 2.1, 4.13: (p:q:r puts p notes into the time of q for the next r. */
function tupletStart({ tuplet }: StaffSign): string {
  if (tuplet === null || tuplet.at > 0) return "";
  const { actual, normal, count } = tuplet;
  return actual === 3 && count === 3 ? "(3" : `(${actual}:${normal}:${count}`;
}

function abcLength({ lengthTicks, tuplet }: StaffSign): string {
  const written = tuplet === null ? lengthTicks : (lengthTicks * tuplet.actual) / tuplet.normal;
  const divisor = greatestCommonDivisor(written, QUAVER);
  const above = written / divisor;
  const below = QUAVER / divisor;
  if (below === 1) return above === 1 ? "" : String(above);
  return `${above === 1 ? "" : above}/${below === 2 ? "" : below}`;
}

function greatestCommonDivisor(one: number, other: number): number {
  return other === 0 ? one : greatestCommonDivisor(other, one % other);
}

/** Notes written without a space are beamed: by dotted crotchets, by half bars of common time, else by crotchets. */
function beamTicks(metre: Metre | null): number {
  if (isCompound(metre)) return 3 * QUAVER;
  const halfBars = metre !== null && metre.beats / metre.unit === 1;
  return (halfBars ? 4 : 2) * QUAVER;
}
