import { quoted } from "../../reading/quoting.ts";
import { barLineAt, endingAt } from "./bar-lines.ts";
import { MOST_TIMES } from "./limits.ts";
import type { Slip, Token } from "./music-tokens.ts";

/** What scanning a tune's lines collects. */
export interface Scanned {
  readonly tokens: Token[];
  readonly slips: Slip[];
  /** The text with everything but notes, chords, rests and ties made spaces, grace notes as notes: what the parser is given. */
  readonly kept: string[];
}

/** What letters mean as decorations: the standard's table with the tune's U: fields (ABC 2.1, 4.14 and 4.16). */
export type Symbols = ReadonlyMap<string, string>;

const SPACE = /[ \t`]+/y;
const QUOTE = /"([^"]*)"/y;
/** Without its end: a word of it, as music may follow. */
const OPEN_QUOTE = /"[^\s"|]*/y;
// What opens a bracket has a bound or stops at the next one, so that a line of nothing but brackets is read in one go.
const FIELD = /\[([A-Za-z]):([^\][]{0,300})\]/y;
const TUPLET = /\((\d+)(?::(\d*))?(?::(\d*))?/y;
const SLUR = /\.?[()]/y;
const BROKEN = /<+|>+/y;
const NAMED = /!([^!|"[\]{}]{1,40})!|\+([^+|"\s[\]{}]{1,40})\+/y;
const GRACE = /\{([^{}|]*)\}/y;
const CHORD = /\[([^\][|:]*)\](\d*(?:\/+\d*)?)/y;
const NOTE = /(?:\^{1,2}|_{1,2}|=)?[A-Ga-g][,']*\d*(?:\/+\d*)?/y;
const MICROTONE = /([_^])(\d+(?:\/\d*)?|\/\d*)(?=[A-Ga-g])/y;
const REST = /[zx]\d*(?:\/+\d*)?/y;
const BAR_RESTS = /[ZX](\d*)/y;
const SPACER = /y\d*(?:\/+\d*)?/y;
const LETTER = /[H-Wh-w~]/y;
/** Line ends of older programs and marks for typesetting only (ABC 2.1, 6.1.1 and 10.3). */
const TYPESETTING = /[\\$*;!]+/y;

const inChord = /(?:\^{1,2}|_{1,2}|=)?[A-Ga-g][,']*\d*(?:\/+\d*)?|\.?-/g;

/** One line of music. */
export class MusicLine {
  readonly #text: string;
  readonly #offset: number;
  readonly #symbols: Symbols;
  readonly #out: Scanned;
  #at = 0;
  /** Whether a note has been read that no tie leads on from yet. */
  #tieable = false;

  constructor(text: string, offset: number, symbols: Symbols, out: Scanned) {
    this.#text = text;
    this.#offset = offset;
    this.#symbols = symbols;
    this.#out = out;
  }

  /** Reads on to the end, or to a change of voice. @returns the name after [V:, or null at the end */
  scan(hearing: boolean): string | null {
    while (this.#at < this.#text.length) {
      const voice = this.#step(hearing);
      if (voice !== null) return voice;
    }
    return null;
  }

  #step(hearing: boolean): string | null {
    const sign = this.#text[this.#at] ?? "";
    if (sign === "%") {
      this.#at = this.#text.length;
      return null;
    }
    const field = this.#match(FIELD);
    if (field?.[1] === "V") {
      this.#pass(field);
      return (field[2] ?? "").trim();
    }
    if (!hearing) {
      const text = this.#match(QUOTE);
      this.#at += text === null ? 1 : text[0].length;
      return null;
    }
    if (field !== null) {
      this.#put({ kind: "field", at: this.#here(), letter: field[1] ?? "", value: (field[2] ?? "").trim() });
      this.#pass(field);
    } else if (!this.#structure(sign) && !this.#marks(sign) && !this.#sounds(sign)) {
      this.#slip(`${quoted(sign)} means nothing here and is left out`);
      this.#at++;
    }
    return null;
  }

  /** Bar lines, endings, overlays, tuplets, slurs. */
  #structure(sign: string): boolean {
    const bar = barLineAt(this.#text, sign === "." ? this.#at + 1 : this.#at);
    if (bar !== null) {
      this.#put({ ...bar.token, at: this.#here() });
      this.#at = bar.end;
      if (/[|\]]/.test(this.#text[bar.end - 1] ?? "")) this.#ending(this.#at);
      return true;
    }
    if (sign === "[" && this.#ending(this.#at + 1)) return true;
    if (sign === "&") return this.#overlay();
    const tuplet = this.#match(TUPLET);
    if (tuplet !== null) return this.#tuplet(tuplet);
    return this.#skip(SLUR);
  }

  #ending(at: number): boolean {
    const ending = endingAt(this.#text, at);
    if (ending === null) return false;
    this.#put({ kind: "ending", at: this.#here(), numbers: ending.numbers });
    this.#at = ending.end;
    return true;
  }

  /** A second voice laid over the bar: left out up to the bar line (ABC 2.1, 7.4). */
  #overlay(): boolean {
    this.#slip("the notes laid over the bar with & are left out");
    while (this.#at < this.#text.length && this.#text[this.#at] !== "|") {
      const text = this.#match(QUOTE);
      this.#at += text === null ? 1 : text[0].length;
    }
    // The colons of ":|" belong to the bar line.
    while (this.#text[this.#at - 1] === ":") this.#at--;
    return true;
  }

  #tuplet(parts: RegExpExecArray): boolean {
    const [, p = "", q = "", r = ""] = parts;
    const numbers = [Number(p), q === "" ? null : Number(q), r === "" ? null : Number(r)] as const;
    if (numbers.some((number) => number !== null && (number < 1 || number > MOST_TIMES)) || numbers[0] < 2) {
      this.#slip(`${parts[0]} is no group of notes and is left out`);
    } else {
      this.#put({ kind: "tuplet", at: this.#here(), p: numbers[0], q: numbers[1], r: numbers[2] });
    }
    return this.#pass(parts);
  }

  /** Space, text, decorations, broken rhythm. */
  #marks(sign: string): boolean {
    if (this.#skip(SPACE)) return true;
    const quote = this.#match(QUOTE);
    if (quote !== null) {
      this.#put({ kind: "text", at: this.#here(), text: quote[1] ?? "" });
      return this.#pass(quote);
    }
    const open = this.#match(OPEN_QUOTE);
    if (open !== null) {
      this.#slip("a text has no closing quotation mark; its first word is left out");
      return this.#pass(open);
    }
    const broken = this.#match(BROKEN);
    if (broken !== null) {
      const dots = Math.min(broken[0].length, 3);
      this.#put({ kind: "broken", at: this.#here(), dots, longFirst: sign === ">" });
      return this.#pass(broken);
    }
    const named = this.#match(NAMED);
    if (named !== null) {
      this.#put({ kind: "sign", at: this.#here(), name: named[1] ?? named[2] ?? "" });
      return this.#pass(named);
    }
    if (sign === ".") return this.#dot();
    const letter = this.#match(LETTER);
    if (letter === null) return this.#skip(TYPESETTING);
    const name = this.#symbols.get(letter[0]);
    if (name === undefined) this.#slip(`${letter[0]} stands for no decoration and is left out`);
    else if (name !== "") this.#put({ kind: "sign", at: this.#here(), name });
    return this.#pass(letter);
  }

  /** Before a tie a dot only says how it is drawn. */
  #dot(): boolean {
    if (this.#text[this.#at + 1] !== "-") this.#put({ kind: "sign", at: this.#here(), name: "staccato" });
    this.#at++;
    return true;
  }

  /** What the parser is to read. */
  #sounds(sign: string): boolean {
    if (sign === "-") return this.#tie();
    const grace = this.#match(GRACE);
    if (grace !== null) return this.#grace(grace);
    const chord = this.#match(CHORD);
    if (chord !== null) return this.#chord(chord);
    const microtone = this.#match(MICROTONE);
    if (microtone !== null) return this.#microtone(microtone);
    const note = this.#match(NOTE) ?? this.#match(REST);
    if (note !== null) {
      this.#put({ kind: "sound", at: this.#here() });
      return this.#keep(this.#at, note[0]);
    }
    const rests = this.#match(BAR_RESTS);
    if (rests === null) return this.#skip(SPACER);
    this.#put({ kind: "bar rests", at: this.#here(), bars: Number(rests[1] || "1") });
    return this.#pass(rests);
  }

  /** One tie a note, after it. */
  #tie(): boolean {
    if (!this.#tieable) return false;
    this.#tieable = false;
    return this.#keep(this.#at, "-");
  }

  #grace(parts: RegExpExecArray): boolean {
    // As long as what was written, so that the parser's places stay those of the text. It is given them as notes: it loses
    // grace notes at the end of a line, and ours may belong to a note before them.
    const notes = ` ${(parts[1] ?? "").replace(/[^A-Ga-g,'^_=]/g, " ")} `;
    const heads = [...notes.matchAll(/[A-Ga-g]/g)].map(({ index }) => this.#here() + index);
    if (heads.length === 0) return this.#pass(parts);
    this.#put({ kind: "grace", at: this.#here(), heads });
    this.#tieable = false;
    return this.#keep(this.#at, notes);
  }

  #chord(parts: RegExpExecArray): boolean {
    const [, inside = "", length = ""] = parts;
    const start = this.#at;
    const notes = inside.replace(/"[^"]*"|![^!]*!/g, (all) => this.#innerMark(all));
    const kept = [...notes].map(() => " ");
    let any = false;
    for (const found of notes.matchAll(inChord)) {
      any ||= /[A-Ga-g]/.test(found[0]);
      for (const [place, one] of [...found[0]].entries()) kept[found.index + place] = one === "." ? " " : one;
    }
    if (!any) {
      this.#slip(`${quoted(parts[0])} is no chord and is left out`);
      return this.#pass(parts);
    }
    this.#put({ kind: "sound", at: this.#here() });
    this.#keep(start, `[${kept.join("")}]${length}`);
    this.#at = start + parts[0].length;
    return true;
  }

  /** A text or decoration within a chord belongs to the whole of it. */
  #innerMark(mark: string): string {
    const name = mark.slice(1, -1);
    if (mark.startsWith('"')) this.#put({ kind: "text", at: this.#here(), text: name });
    else this.#put({ kind: "sign", at: this.#here(), name });
    return " ".repeat(mark.length);
  }

  #microtone(parts: RegExpExecArray): boolean {
    const [all, sign = "", part = ""] = parts;
    this.#slip(`${all} is not a whole semitone: it is read as ${sign}`);
    NOTE.lastIndex = this.#at + all.length;
    const note = NOTE.exec(this.#text)?.[0] ?? "";
    const at = this.#at + part.length;
    this.#put({ kind: "sound", at: this.#offset + at });
    return this.#keep(at, `${sign}${note}`);
  }

  #here(): number {
    return this.#offset + this.#at;
  }

  #put(token: Token): void {
    if (token.kind === "sound") this.#tieable = true;
    this.#out.tokens.push(token);
  }

  #slip(words: string): void {
    this.#out.slips.push({ at: this.#here(), words });
  }

  #match(pattern: RegExp): RegExpExecArray | null {
    pattern.lastIndex = this.#at;
    return pattern.exec(this.#text);
  }

  #skip(pattern: RegExp): boolean {
    const found = this.#match(pattern);
    return found !== null && this.#pass(found);
  }

  #pass(found: RegExpExecArray): true {
    this.#at += found[0].length;
    return true;
  }

  #keep(at: number, characters: string): true {
    for (let index = 0; index < characters.length; index++) {
      this.#out.kept[this.#offset + at + index] = characters[index] ?? " ";
    }
    this.#at = at + characters.length;
    return true;
  }
}
