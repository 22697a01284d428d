import { midi as asMidi } from "../../units.ts";
import type { Metre, Ornament, Place } from "../tune.ts";
import { TICKS_PER_SEMIBREVE } from "../tune.ts";
import type { Sound } from "./bar-writer.ts";
import { Fault } from "./fault.ts";
import { usualUnitLength } from "./field-values.ts";
import type { KeyField } from "./key-field.ts";
import { LONGEST_NOTE_SEMIBREVES } from "./limits.ts";
import type { TupletToken } from "./music-tokens.ts";
import type { ParsedNote, WrittenPitch } from "./parse-notes.ts";
import { Accidentals, type Pitch, soundingPitch } from "./pitches.ts";
import type { AbcHeader, Propagation } from "./read-header.ts";
import { type OpenTuplet, openTuplet } from "./tuplets.ts";

/** Makes notes as they sound of notes as they are written: key, accidentals, unit length, groups, broken rhythm, ornaments. */
export class NoteMaker {
  readonly #accidentals: Accidentals;
  readonly #slip: (at: number, words: string) => void;
  #unit: number;
  #octaves: number;
  #transpose: number;
  #tuplet: OpenTuplet | null = null;
  #last: Sound | null = null;
  /** What broken rhythm makes of the next note. */
  #factor = 1;
  #ornaments: string[] = [];
  #graces: Pitch[] = [];
  /** Where those stand. */
  #gracesAt = 0;
  /** The last that is no rest. */
  #lastNote: Sound | null = null;
  #tieAtEnding: Accidentals["tied"] = null;

  /** @param slip takes what is left out, once for the same words */
  constructor(header: AbcHeader, voice: KeyField | null, slip: (at: number, words: string) => void) {
    this.#slip = slip;
    this.#unit = header.unitLength ?? usualUnitLength(header.metre);
    this.#octaves = voice?.octaves ?? header.key?.octaves ?? 0;
    this.#transpose = voice?.transpose ?? header.key?.transpose ?? 0;
    this.#accidentals = new Accidentals(header.key?.key?.signature ?? {}, header.propagation);
  }

  set unit(semibreves: number) {
    this.#unit = semibreves;
  }

  set propagation(propagation: Propagation) {
    this.#accidentals.propagation = propagation;
  }

  setKey(field: KeyField): void {
    if (field.key !== null) this.#accidentals.signature = field.key.signature;
    this.#octaves = field.octaves ?? this.#octaves;
    this.#transpose = field.transpose ?? this.#transpose;
  }

  endBar(): void {
    this.#accidentals.endBar();
  }

  /** After rests of whole bars no tie and no broken rhythm goes on. */
  breakOff(): void {
    this.#last = null;
    this.#accidentals.endBar();
    this.#accidentals.tied = null;
  }

  /** A tie into the first ending leads into the others as well. */
  startEnding(numbers: readonly number[]): void {
    if (numbers.includes(1)) this.#tieAtEnding = this.#accidentals.tied;
    else this.#accidentals.tied = this.#tieAtEnding;
  }

  startTuplet(token: TupletToken, metre: Metre | null): void {
    if (this.#tuplet !== null) this.#slip(token.at, "a group within a group is left out");
    else this.#tuplet = openTuplet(token, metre);
  }

  /** A > B: the shorter note keeps a half, a quarter, an eighth, and the other takes the rest (ABC 2.1, 4.4). */
  breakRhythm(at: number, dots: number, longFirst: boolean): void {
    if (this.#last === null) {
      this.#slip(at, "broken rhythm needs a note before it; it is left out");
      return;
    }
    const short = 1 / 2 ** dots;
    this.#last.semibreves *= longFirst ? 2 - short : short;
    this.#factor *= longFirst ? short : 2 - short;
  }

  addOrnament(kind: string): void {
    this.#ornaments.push(kind);
  }

  /** A grace note for the note that follows. */
  addGrace(at: number, note: ParsedNote): void {
    if (this.#graces.length === 0) this.#gracesAt = at;
    for (const written of note.pitches) this.#graces.push(this.#pitch(written));
  }

  /** No note follows the grace notes there are: they end the one before. */
  gracesAfter(at: number): void {
    const [ornament] = graceOrnament("after-grace", this.#graces.splice(0));
    if (ornament === undefined) return;
    if (this.#lastNote === null) this.#slip(Math.min(at, this.#gracesAt), NO_NOTE_FOR_GRACES);
    else this.#lastNote.ornaments.push(ornament);
  }

  make(at: number, note: ParsedNote, place: Place): Sound {
    if (note.pitches.length === 0) this.gracesAfter(at);
    const graces = this.#graces.splice(0);
    const pitches = this.#pitchesOf(note);
    const plain = this.#ornaments.map((kind): Ornament => ({ kind, notes: [] }));
    this.#ornaments = [];
    const sound: Sound = {
      semibreves: this.#length(at, note.units),
      pitch: this.#melodyOf(at, pitches),
      tiedOn: pitches.at(-1)?.tied ?? false,
      ornaments: [...graceOrnament("grace", graces), ...plain],
      place,
    };
    this.#last = sound;
    if (sound.pitch !== null) this.#lastNote = sound;
    return sound;
  }

  #length(at: number, units: number): number {
    // Within a tuplet a note is written longer than it is, or shorter.
    const asked = units * this.#unit * (this.#tuplet?.factor ?? 1);
    if (asked > LONGEST_NOTE_SEMIBREVES || !Number.isFinite(asked)) {
      throw new Fault(at, `this note is longer than ${LONGEST_NOTE_SEMIBREVES} semibreves`);
    }
    const length = asked * this.#factor;
    this.#factor = 1;
    if (this.#tuplet !== null) {
      this.#tuplet.left--;
      if (this.#tuplet.left === 0) this.#tuplet = null;
    }
    // Less than half a tick is rounded to none.
    if (length * TICKS_PER_SEMIBREVE >= 0.5) return length;
    this.#slip(at, "a note of no length is left out");
    return 0;
  }

  #pitch(written: WrittenPitch): Pitch & { readonly alteration: number } {
    const alteration = this.#accidentals.alterationOf(written);
    const shift = 12 * this.#octaves + this.#transpose;
    return { ...soundingPitch(written.steps, alteration, shift), alteration };
  }

  /** Lowest first. */
  #pitchesOf(note: ParsedNote) {
    const sounding = note.pitches
      .map((written) => ({ ...this.#pitch(written), steps: written.steps, tied: written.tied }))
      .sort((a, b) => a.midi - b.midi);
    const melody = sounding.at(-1);
    this.#accidentals.tied = melody?.tied === true ? melody : null;
    return sounding;
  }

  #melodyOf(at: number, pitches: readonly Pitch[]): Sound["pitch"] {
    const melody = pitches.at(-1);
    if (melody === undefined) return null;
    if (pitches.some((pitch) => !canSound(pitch))) {
      this.#slip(at, `${melody.name} is beyond what can sound and is left out`);
      return null;
    }
    const below = new Set(pitches.map(({ midi }) => midi));
    below.delete(melody.midi);
    return { midi: melody.midi, name: melody.name, chord: [...below] };
  }
}

const canSound = ({ midi }: Pitch): boolean => midi >= 0 && midi <= 127;

const NO_NOTE_FOR_GRACES = "grace notes have no note to belong to and are left out";

function graceOrnament(kind: "grace" | "after-grace", graces: readonly Pitch[]): readonly Ornament[] {
  const notes = graces.filter(canSound).map(({ midi, name }) => ({ midi: asMidi(midi), name }));
  return notes.length === 0 ? [] : [{ kind, notes }];
}
