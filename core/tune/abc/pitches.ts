import { noteName } from "../../pitch/note-names.ts";
import { midi } from "../../units.ts";
import type { Letter } from "../key-signature.ts";
import type { TuneKey } from "../tune.ts";
import { LETTERS } from "./key-field.ts";
import type { WrittenPitch } from "./parse-notes.ts";
import type { Propagation } from "./read-header.ts";

export interface Pitch {
  readonly midi: number;
  readonly name: string;
}

const SEMITONES: Readonly<Record<Letter, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };

/** Which accidentals hold where: those of the signature, those of the bar, those a tie carries over a bar line. */
export class Accidentals {
  #signature: TuneKey["signature"];
  #propagation: Propagation;
  readonly #bar = new Map<string, number>();
  /** Of a tied note: the next note of its letter and octave keeps its accidental. */
  #tied: { readonly steps: number; readonly alteration: number } | null = null;

  constructor(signature: TuneKey["signature"], propagation: Propagation) {
    this.#signature = signature;
    this.#propagation = propagation;
  }

  set signature(signature: TuneKey["signature"]) {
    this.#signature = signature;
    this.#bar.clear();
  }

  set propagation(propagation: Propagation) {
    this.#propagation = propagation;
    this.#bar.clear();
  }

  endBar(): void {
    this.#bar.clear();
  }

  /** Semitones the written pitch is altered by; an accidental of its own is remembered. */
  alterationOf({ steps, accidental }: WrittenPitch): number {
    const letter = letterOf(steps);
    const held = this.#propagation === "octave" ? String(steps) : letter;
    if (accidental !== null) {
      if (this.#propagation !== "not") this.#bar.set(held, accidental);
      return accidental;
    }
    if (this.#tied?.steps === steps) return this.#tied.alteration;
    return this.#bar.get(held) ?? this.#signature[letter] ?? 0;
  }

  /** Of the note just read, if a tie leads on from it. */
  get tied() {
    return this.#tied;
  }

  set tied(tied: { readonly steps: number; readonly alteration: number } | null) {
    this.#tied = tied;
  }
}

const letterOf = (steps: number): Letter => LETTERS[((steps % 7) + 7) % 7] ?? "C";

/**
 * The pitch a written one sounds.
 *
 * @param shift semitones of octave= and transpose=; whole octaves keep the spelling
 */
export function soundingPitch(steps: number, alteration: number, shift: number): Pitch {
  const letter = letterOf(steps);
  const octave = 4 + Math.floor(steps / 7);
  const sounding = 12 * (octave + 1) + SEMITONES[letter] + alteration + shift;
  if (shift % 12 !== 0) return { midi: sounding, name: noteName(midi(sounding)) };
  const signs = alteration < 0 ? "b".repeat(-alteration) : "#".repeat(alteration);
  return { midi: sounding, name: `${letter}${signs}${octave + shift / 12}` };
}
