import { LIMITS } from "../../reading/limits.ts";
import { quoted } from "../../reading/quoting.ts";
import type { Metre, Place } from "../tune.ts";
import type { WrittenBar } from "../written-bar.ts";
import { BarWriter } from "./bar-writer.ts";
import { ornamentOf } from "./decorations.ts";
import { Fault } from "./fault.ts";
import { type Read, readMetre, readUnitLength } from "./field-values.ts";
import { type KeyField, readKey } from "./key-field.ts";
import type { FieldToken, Slip, Token } from "./music-tokens.ts";
import { NoteMaker } from "./note-maker.ts";
import type { ParsedNote } from "./parse-notes.ts";
import { partLabel } from "./part-order.ts";
import { type AbcHeader, readField, voiceField } from "./read-header.ts";
import { readTempo, type TempoField } from "./tempo-field.ts";
import { isChordSymbol, waySign } from "./way-signs.ts";

export interface MusicRead {
  readonly bars: readonly WrittenBar[];
  readonly slips: readonly Slip[];
  /** Why the tune cannot be read, if so. */
  readonly fault: Slip | null;
  /** A tempo given in the body before any note. */
  readonly tempo: TempoField | null;
}

/**
 * Joins what the parser says of notes with everything else, in the order of the text, to bars.
 *
 * @param header read already; fields of the body that are not music are added to it
 * @param voice what V: says of the voice's pitch
 * @param placeAt line and column of a character
 */
export function readMusic(
  tokens: readonly Token[],
  notes: readonly ParsedNote[],
  header: AbcHeader,
  { voice, placeAt }: { readonly voice: KeyField | null; readonly placeAt: (at: number) => Place },
): MusicRead {
  const reader = new MusicReader(notes, header, voice, placeAt);
  try {
    for (const token of tokens) reader.take(token);
    return {
      bars: reader.finish(tokens.at(-1)?.at ?? 0),
      slips: reader.slips,
      fault: null,
      tempo: reader.tempo,
    };
  } catch (error) {
    if (!(error instanceof Fault)) throw error;
    return { bars: [], slips: reader.slips, fault: { at: error.at, words: error.message }, tempo: null };
  }
}

const NOTHING_SAID: KeyField = { key: null, octaves: null, transpose: null };

class MusicReader {
  readonly slips: Slip[] = [];
  tempo: TempoField | null = null;
  readonly #notes: readonly ParsedNote[];
  readonly #header: AbcHeader;
  readonly #placeAt: (at: number) => Place;
  readonly #writer: BarWriter;
  readonly #maker: NoteMaker;
  #next = 0;
  #metre: Metre | null;
  #sounded = false;
  readonly #said = new Set<string>();

  constructor(
    notes: readonly ParsedNote[],
    header: AbcHeader,
    voice: KeyField | null,
    placeAt: (at: number) => Place,
  ) {
    this.#notes = notes;
    this.#header = header;
    this.#placeAt = placeAt;
    this.#metre = header.metre;
    this.#writer = new BarWriter(header.metre);
    this.#maker = new NoteMaker(header, voice, (at, words) => this.#slip(at, words));
  }

  /** @param end of the text */
  finish(end: number): readonly WrittenBar[] {
    this.#maker.gracesAfter(end);
    return this.#writer.finish();
  }

  take(token: Token): void {
    switch (token.kind) {
      case "sound":
        this.#sound(token.at);
        break;
      case "grace":
        this.#grace(token.heads);
        break;
      case "bar rests":
        this.#barRests(token.at, token.bars);
        break;
      case "bar":
        // What leads to an end of a repeat leads as often back as on.
        if (token.repeatTo > 0) this.#maker.gracesAfter(token.at);
        this.#writer.endBar(token, this.#metre);
        this.#maker.endBar();
        break;
      case "ending":
        this.#maker.startEnding(token.numbers);
        this.#writer.startEnding(token.numbers, this.#metre);
        break;
      case "tuplet":
        this.#maker.startTuplet(token, this.#metre);
        break;
      case "broken":
        this.#maker.breakRhythm(token.at, token.dots, token.longFirst);
        break;
      case "sign":
        this.#sign(token.at, token.name);
        break;
      case "text":
        this.#text(token.at, token.text);
        break;
      case "field":
        this.#field(token);
    }
  }

  /** The same about the same thing is said once. */
  #slip(at: number, words: string): void {
    if (this.#said.has(words)) return;
    this.#said.add(words);
    this.slips.push({ at, words });
  }

  #sound(at: number): void {
    const note = this.#parsed(at);
    if (note === null) {
      this.slips.push({ at, words: "this note could not be read and is left out" });
      return;
    }
    this.#writer.addSound(this.#maker.make(at, note, this.#placeAt(at)));
    this.#sounded = true;
  }

  #grace(heads: readonly number[]): void {
    for (const at of heads) {
      const note = this.#parsed(at);
      if (note !== null) this.#maker.addGrace(at, note);
    }
  }

  /** The note the parser found around this character. */
  #parsed(at: number): ParsedNote | null {
    while ((this.#notes[this.#next]?.end ?? Number.POSITIVE_INFINITY) <= at) this.#next++;
    const note = this.#notes[this.#next];
    return note !== undefined && note.start <= at ? note : null;
  }

  #barRests(at: number, count: number): void {
    if (count < 1 || count + this.#writer.bars > LIMITS.tuneBars.most) {
      throw new Fault(at, `a rest of ${count} bars cannot be: a tune has at most ${LIMITS.tuneBars.most}`);
    }
    const semibreves = this.#metre === null ? 1 : this.#metre.beats / this.#metre.unit;
    for (let bar = 0; bar < count; bar++) {
      if (bar > 0) this.#writer.endBar({ repeatTo: 0, repeatFrom: 0, double: false }, this.#metre);
      this.#writer.addSound({ semibreves, pitch: null, tiedOn: false, ornaments: [], place: null });
    }
    this.#maker.gracesAfter(at);
    this.#maker.breakOff();
  }

  #sign(at: number, name: string): void {
    const way = waySign(name);
    const ornament = ornamentOf(name);
    if (way !== null) this.#writer.addSign(way);
    else if (ornament === "unknown") this.#slip(at, `the decoration !${name}! is not known and is left out`);
    else if (ornament !== null) this.#maker.addOrnament(ornament);
  }

  #text(at: number, text: string): void {
    const way = waySign(text);
    if (way !== null) this.#writer.addSign(way);
    else if (/^[\^_<>@]/.test(text) || text.trim() === "") return;
    else if (isChordSymbol(text)) this.#writer.addChord(text.trim());
    else this.#slip(at, `the text ${quoted(text)} is no chord and is left out`);
  }

  #field({ at, letter, value }: FieldToken): void {
    const change = this.#changes[letter];
    if (change !== undefined) change(at, value);
    else this.#other(at, letter, value);
  }

  /** Fields whose place in the music matters. */
  readonly #changes: Readonly<Record<string, (at: number, value: string) => void>> = {
    M: (at, value) =>
      this.#read(at, readMetre(value), (metre) => {
        this.#metre = metre;
        this.#writer.setMetre(metre);
      }),
    L: (at, value) =>
      this.#read(at, readUnitLength(value), (unit) => {
        this.#maker.unit = unit;
      }),
    K: (at, value) => this.#read(at, readKey(value), (key) => this.#maker.setKey(key)),
    V: (_at, value) => this.#maker.setKey(voiceField(value).properties ?? NOTHING_SAID),
    P: (_at, value) => this.#writer.startPart(partLabel(value), this.#metre),
    Q: (at, value) => this.#read(at, readTempo(value), (tempo) => this.#tempoChange(at, tempo)),
    // Read before the music, as it says what its letters mean.
    U: () => {},
  };

  #read<T>(at: number, result: Read<T>, take: (value: T) => void): void {
    if (result.kind === "unreadable") this.#slip(at, `${result.reason}; it is left out`);
    else take(result.value);
  }

  #tempoChange(at: number, tempo: TempoField | null): void {
    if (tempo === null) return;
    if (this.#sounded || this.tempo !== null) this.#slip(at, "a change of tempo within the tune is left out");
    else this.tempo = tempo;
  }

  /** Titles, sources and directives that stand in the body hold for the tune as if they stood before it. */
  #other(at: number, letter: string, value: string): void {
    const { propagation } = this.#header;
    const said = readField(this.#header, letter, value);
    if (said !== null) this.#slip(at, said);
    if (this.#header.propagation !== propagation) this.#maker.propagation = this.#header.propagation;
  }
}
