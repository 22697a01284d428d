import { LIMITS, moreThan } from "../../reading/limits.ts";
import type { TempoField } from "../abc/tempo-field.ts";
import { melodyLine } from "../melody-line.ts";
import { type Metre, type Ornament, type Place, type Remark, TICKS_PER_SEMIBREVE } from "../tune.ts";
import { TuneFault } from "../tune-fault.ts";
import { metreTicks, type WrittenBar, type WrittenNote } from "../written-bar.ts";
import { readKey, readTime, readTranspose, type Transposition, type WrittenKey } from "./attributes.ts";
import { LONGEST_BAR_SEMIBREVES } from "./limits.ts";
import { chordSymbol } from "./read-harmony.ts";
import { readFileNote, sounds, voiceOf } from "./read-note.ts";
import { noSigns, readBarline, readDirection, readSound, readTempo, type WaySigns } from "./read-signs.ts";
import { child, childNumber, childrenOf, type XmlElement } from "./xml-tree.ts";

const TICKS_PER_CROTCHET = TICKS_PER_SEMIBREVE / 4;
/** What MusicXML writers use is below 20,000. */
const FINEST_DIVISIONS = 1_000_000;
/** In divisions: longer than any bar. */
const LONGEST = 1_000_000_000;

/** What one voice of a part says, as written. */
export interface ReadPart {
  readonly bars: readonly WrittenBar[];
  readonly key: WrittenKey | null;
  readonly moved: Transposition;
  /** Undefined where no metre is given. */
  readonly metre: Metre | null | undefined;
  readonly tempo: TempoField | null;
  readonly remarks: readonly Remark[];
}

/**
 * Reads the measures of a part, one voice of it.
 *
 * @throws TuneFault where a measure cannot be made sense of
 */
export function readPart(measures: readonly XmlElement[], voice: string): ReadPart {
  const reader = new PartReader(voice);
  // Without a metre a bar without notes has no length: it is none.
  const bars = measures.map((measure) => reader.measure(measure)).filter(({ bar }) => bar.lengthTicks > 0);
  reader.gracesAfter();
  // A double bar line at the beginning of a measure ends the bar before it.
  return {
    ...reader.found(),
    bars: bars.map((bar, at) => ({
      ...bar.bar,
      doubleBar: bar.bar.doubleBar || (bars[at + 1]?.doubleBefore ?? false),
    })),
  };
}

class PartReader {
  readonly #voice: string;
  readonly #remarks: Remark[] = [];
  #divisions: number | null = null;
  #key: WrittenKey | null = null;
  #moved: Transposition | null = null;
  #firstMetre: Metre | null | undefined;
  #metre: Metre | null = null;
  #tempo: TempoField | null = null;
  #notes = 0;
  #graces: Ornament["notes"][number][] = [];
  #gracesPlace: Place | null = null;
  /** Of the last note of the voice: grace notes that no note follows end it. */
  #lastOrnaments: Ornament[] | null = null;
  readonly #said = new Set<string>();
  /** Of the measure being read, in divisions. */
  #at = 0;
  #end = 0;
  #chordAt = 0;
  #line: WrittenNote[] = [];
  #chords: WrittenBar["chords"][number][] = [];
  #signs: WaySigns = noSigns();

  constructor(voice: string) {
    this.#voice = voice;
  }

  found(): Omit<ReadPart, "bars"> {
    return {
      key: this.#key,
      moved: this.#moved ?? { semitones: 0, fifths: 0 },
      metre: this.#firstMetre,
      tempo: this.#tempo,
      remarks: this.#remarks,
    };
  }

  measure(measure: XmlElement): { readonly bar: WrittenBar; readonly doubleBefore: boolean } {
    this.#at = 0;
    this.#end = 0;
    this.#chordAt = 0;
    this.#line = [];
    this.#chords = [];
    this.#signs = noSigns();
    for (const element of measure.children) this.#element(element);
    const line = melodyLine(this.#line);
    if (line.cut + line.below > 0)
      this.#once("notes of one voice overlap: the upper line is taken", measure.place);
    const { doubleBefore, ...signs } = this.#signs;
    if (this.#ticks(this.#end) > LONGEST_BAR_SEMIBREVES * TICKS_PER_SEMIBREVE) {
      throw new TuneFault(
        `a bar of more than ${LONGEST_BAR_SEMIBREVES} semibreves, the most that is read`,
        measure.place,
      );
    }
    const whole = this.#metre === null ? 0 : metreTicks(this.#metre);
    return {
      bar: {
        ...signs,
        notes: line.notes,
        chords: this.#chords.toSorted((one, other) => one.atTicks - other.atTicks),
        lengthTicks: this.#ticks(this.#end) || whole,
        metre: this.#metre,
        closed: true,
        part: null,
      },
      doubleBefore,
    };
  }

  #element(element: XmlElement): void {
    switch (element.name) {
      case "note":
        this.#note(element);
        break;
      case "backup":
        this.#move(-this.#duration(element));
        break;
      case "forward":
        this.#move(this.#duration(element));
        break;
      case "attributes":
        this.#attributes(element);
        break;
      case "barline": {
        const trouble = readBarline(element, this.#signs);
        // What leads to an end of a repeat leads as often back as on.
        if (this.#signs.repeatTo > 0) this.gracesAfter();
        if (trouble !== null) this.#once(trouble, element.place);
        break;
      }
      case "direction":
        readDirection(element, this.#signs);
        this.#readTempo(element);
        break;
      case "sound":
        readSound(element, this.#signs);
        this.#readTempo(element);
        break;
      case "harmony":
        this.#harmony(element);
        break;
    }
  }

  #note(note: XmlElement): void {
    const grace = child(note, "grace") !== null;
    const ours = voiceOf(note) === this.#voice;
    const pitch = child(note, "pitch");
    if (grace) {
      if (ours && pitch !== null && sounds(note)) {
        const { midi, name } = readFileNote(note, pitch, this.#transposition());
        this.#graces.push({ midi, name });
        this.#gracesPlace = note.place;
      }
      return;
    }
    if (ours && pitch === null) this.gracesAfter();
    const duration = this.#duration(note);
    const start = child(note, "chord") === null ? this.#at : this.#chordAt;
    if (child(note, "chord") === null) {
      this.#chordAt = start;
      this.#move(duration);
    }
    this.#end = Math.max(this.#end, start + duration);
    if (!ours) return;
    if (child(note, "unpitched") !== null) this.#once("notes without a pitch are left out", note.place);
    if (pitch !== null && sounds(note)) this.#sound(note, pitch, start, duration);
  }

  #sound(note: XmlElement, pitch: XmlElement, start: number, duration: number): void {
    if (++this.#notes > LIMITS.tuneNotes.most) {
      throw new TuneFault(moreThan(LIMITS.tuneNotes), note.place);
    }
    const { rounded, ...read } = readFileNote(note, pitch, this.#transposition());
    if (rounded) this.#once("pitches between two keys of a piano are rounded", note.place);
    const atTicks = this.#ticks(start);
    const graces = this.#graces;
    this.#graces = [];
    const lengthTicks = this.#ticks(start + duration) - atTicks;
    if (lengthTicks === 0) return;
    const before: readonly Ornament[] = graces.length === 0 ? [] : [{ kind: "grace", notes: graces }];
    const ornaments = [...before, ...read.ornaments];
    this.#lastOrnaments = ornaments;
    this.#line.push({ ...read, atTicks, lengthTicks, ornaments, chord: [] });
  }

  /** No note follows the grace notes there are: they end the one before. */
  gracesAfter(): void {
    const [notes, place] = [this.#graces, this.#gracesPlace];
    this.#graces = [];
    if (notes.length === 0 || place === null) return;
    if (this.#lastOrnaments === null)
      this.#once("grace notes have no note to belong to and are left out", place);
    else this.#lastOrnaments.push({ kind: "after-grace", notes });
  }

  #transposition(): Transposition {
    return this.#moved ?? { semitones: 0, fifths: 0 };
  }

  #move(by: number): void {
    this.#at = Math.max(0, this.#at + by);
    this.#end = Math.max(this.#end, this.#at);
  }

  #duration(element: XmlElement): number {
    const duration = childNumber(element, "duration", 0, LONGEST);
    if (duration === null) throw new TuneFault(`<${element.name}> has no <duration>`, element.place);
    if (this.#divisions === null) {
      this.#divisions = 1;
      this.#once("<divisions> is missing: durations are taken to count crotchets", element.place);
    }
    return duration;
  }

  #ticks(divisions: number): number {
    return Math.round((divisions * TICKS_PER_CROTCHET) / (this.#divisions ?? 1));
  }

  #attributes(attributes: XmlElement): void {
    const divisions = childNumber(attributes, "divisions", 1 / 1000, FINEST_DIVISIONS);
    if (divisions !== null) this.#setDivisions(divisions);
    const key = child(attributes, "key");
    if (key !== null) this.#setKey(readKey(key), key.place);
    const time = child(attributes, "time");
    if (time !== null) {
      this.#metre = readTime(time);
      if (this.#firstMetre === undefined) this.#firstMetre = this.#metre;
    }
    const transpose = child(attributes, "transpose");
    if (transpose !== null) this.#moved = readTranspose(transpose);
    if (childrenOf(attributes, "measure-style").some((one) => child(one, "measure-repeat") !== null)) {
      this.#once("signs that repeat the bar before are not played", attributes.place);
    }
  }

  /** What was counted so far in this measure is counted anew. */
  #setDivisions(divisions: number): void {
    const factor = divisions / (this.#divisions ?? divisions);
    this.#at *= factor;
    this.#end *= factor;
    this.#chordAt *= factor;
    this.#divisions = divisions;
  }

  #setKey(key: WrittenKey, place: Place): void {
    if (this.#key === null) this.#key = key;
    else if (JSON.stringify(key) !== JSON.stringify(this.#key)) {
      this.#once("the key changes: the first is the tune's, the notes are as written", place);
    }
  }

  #readTempo(element: XmlElement): void {
    const tempo = readTempo(element);
    if (tempo === null) return;
    this.#tempo ??= tempo;
    const speed = (one: TempoField) => (one.beat ?? 0) * one.perMinute;
    if (speed(tempo) !== speed(this.#tempo)) {
      this.#once("the tempo changes: the first is the tune's", element.place);
    }
  }

  #harmony(harmony: XmlElement): void {
    const symbol = chordSymbol(harmony);
    if (symbol === null) {
      this.#once("chord symbols without a root are left out", harmony.place);
      return;
    }
    const offset = childNumber(harmony, "offset", -LONGEST, LONGEST) ?? 0;
    this.#chords.push({ atTicks: this.#ticks(Math.max(0, this.#at + offset)), symbol });
  }

  /** The same is said of a tune only once, at its first place. */
  #once(words: string, place: Place): void {
    if (this.#said.has(words)) return;
    this.#said.add(words);
    this.#remarks.push({ place, words });
  }
}
