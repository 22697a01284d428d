import { quoted } from "../../reading/quoting.ts";
import { bpm } from "../../units.ts";
import { FASTEST, NOTE_VALUES, SLOWEST, semibreves, type Tempo } from "../tempo.ts";
import type { Metre } from "../tune.ts";
import { isCompound } from "../written-bar.ts";
import { type Read, read, unreadable } from "./field-values.ts";

/** What a Q: field says: so many semibreves a beat, so many beats a minute; null where it has words alone. */
export interface TempoField {
  /** Semibreves; null in the deprecated forms, which count unit notes. */
  readonly beat: number | null;
  /** Unit notes to the beat, in the deprecated forms. */
  readonly units: number;
  readonly perMinute: number;
}

const FRACTIONS = /^\d+\/\d+(\s+\d+\/\d+)*$/;

/**
 * Reads Q: (ABC 2.1, 3.1.8): "1/4=120", several beats "1/4 3/8=40", words before or after, words alone; the deprecated
 * "120", "C=120" and "C3=40" (10.1).
 *
 * @returns null for words alone
 */
export function readTempo(text: string): Read<TempoField | null> {
  const value = text.replace(/"[^"]*"?/g, " ").trim();
  if (value === "") return read(null);
  const [left = "", right, ...more] = value.split("=").map((part) => part.trim());
  const number = right ?? left;
  if (more.length > 0 || !/^\d+(\.\d+)?$/.test(number) || Number(number) <= 0) return notATempo(text);
  const perMinute = Number(number);
  if (right === undefined) return read({ beat: null, units: 1, perMinute });
  if (FRACTIONS.test(left)) {
    const beat = left.split(/\s+/).reduce((sum, part) => sum + fraction(part), 0);
    return Number.isFinite(beat) && beat > 0 ? read({ beat, units: 1, perMinute }) : notATempo(text);
  }
  const units = /^C(\d*)$/i.exec(left);
  if (units === null || units[1] === "0") return notATempo(text);
  return read({ beat: null, units: Number(units[1] || "1"), perMinute });
}

const notATempo = (text: string) => unreadable(`Q:${quoted(text)} is no tempo`);

function fraction(text: string): number {
  const [top, bottom] = text.split("/").map(Number);
  return (top ?? 0) / (bottom ?? 0);
}

export interface ReadTempo {
  readonly tempo: Tempo;
  /** The speed asked for cannot be set: the nearest is taken. */
  readonly outside: boolean;
}

/**
 * The tempo with one of our note values: the field's own if it is one, else the one that keeps the speed and comes nearest
 * to the usual for the metre (dotted crotchets in compound time, minims in 2/2, else crotchets).
 */
export function tempoOf(field: TempoField, unitLength: number, metre: Metre | null): ReadTempo {
  const semibrevesAMinute = (field.beat ?? field.units * unitLength) * field.perMinute;
  const beat = field.beat ?? field.units * unitLength;
  const usual = isCompound(metre) ? "3/8" : metre?.unit === 2 ? "1/2" : "1/4";
  const own = NOTE_VALUES.find((value) => semibreves(value) === beat);
  const wanted = [...(own === undefined ? [] : [own]), usual, ...NOTE_VALUES] as const;
  const speed = (value: Tempo["noteValue"]) => semibrevesAMinute / semibreves(value);
  const fitting = wanted.find((value) => speed(value) >= SLOWEST && speed(value) <= FASTEST);
  if (fitting !== undefined) {
    return { tempo: { noteValue: fitting, bpm: bpm(rounded(speed(fitting))) }, outside: false };
  }
  const slow = speed("1/8") < SLOWEST;
  return { tempo: { noteValue: slow ? "1/8" : "1/2", bpm: slow ? SLOWEST : FASTEST }, outside: true };
}

/** To a thousandth of a beat: 120 · 3/8 ÷ 1/4 is 180, not 180.00000000000003. */
const rounded = (value: number): number => Math.round(value * 1000) / 1000;
