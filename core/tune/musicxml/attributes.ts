import type { SevenMode } from "../../pitch/modes.ts";
import { modeOfName, SEVEN_MODES } from "../../pitch/modes.ts";
import { inLine, quoted } from "../../reading/quoting.ts";
import { type Letter, type Signature, signatureOfFifths } from "../key-signature.ts";
import type { Metre } from "../tune.ts";
import { TuneFault } from "../tune-fault.ts";
import { child, childNumber, childrenOf, childText, type XmlElement } from "./xml-tree.ts";

/** A key as the file has it; null where it does not say so. */
export interface WrittenKey {
  readonly fifths: number | null;
  readonly mode: SevenMode | null;
  /** The file says that there is none. */
  readonly withoutMode: boolean;
  readonly signature: Signature;
}

/** How far the part sounds from what is written. */
export interface Transposition {
  readonly semitones: number;
  /** Steps along the line of fifths that names move by. */
  readonly fifths: number;
}

const MOST_FIFTHS = 7;

/** `key`: fifths and mode, or steps and alterations of its own. */
export function readKey(key: XmlElement): WrittenKey {
  const fifths = childNumber(key, "fifths", -MOST_FIFTHS, MOST_FIFTHS);
  if (fifths === null) return { fifths, mode: null, withoutMode: true, signature: ownSignature(key) };
  const name = childText(key, "mode");
  const mode = name === null ? null : modeOfName(name);
  return {
    fifths,
    mode: SEVEN_MODES.find((one) => one === mode) ?? null,
    withoutMode: name === "none",
    signature: signatureOfFifths(fifths),
  };
}

/** `key-step` and `key-alter` in pairs; alterations by less than a semitone are rounded. */
function ownSignature(key: XmlElement): Signature {
  const steps = childrenOf(key, "key-step");
  const alters = childrenOf(key, "key-alter");
  const moved = steps.flatMap((step, at): [Letter, number][] => {
    const letter = step.text.trim();
    const alter = Math.round(Number(alters[at]?.text ?? "0"));
    return isLetter(letter) && Number.isFinite(alter) && alter !== 0 && Math.abs(alter) <= 2
      ? [[letter, alter]]
      : [];
  });
  return Object.fromEntries(moved);
}

const isLetter = (text: string): text is Letter => /^[A-G]$/.test(text);

/**
 * `time`: beats may be a sum ("3+2"), and pairs with one beat type are added; `senza-misura` is a free metre.
 *
 * @throws TuneFault where it is no metre
 */
export function readTime(time: XmlElement): Metre | null {
  if (child(time, "senza-misura") !== null) return null;
  const beats = childrenOf(time, "beats").map((one) => sumOf(one));
  const units = childrenOf(time, "beat-type").map((one) => one.text.trim());
  const unit = Number(units[0]);
  const mixed = units.some((one) => one !== units[0]);
  const total = beats.reduce((sum, one) => sum + one, 0);
  if (
    beats.length !== units.length ||
    mixed ||
    ![1, 2, 4, 8, 16, 32, 64].includes(unit) ||
    total < 1 ||
    total > 64
  ) {
    const said = `beats ${beats.join(" and ")}, beat type ${units.join(" and ")}`;
    throw new TuneFault(`<time> is no metre: ${inLine(said)}`, time.place);
  }
  return { beats: total, unit };
}

function sumOf(beats: XmlElement): number {
  const text = beats.text.replace(/\s+/g, "");
  if (!/^\d{1,3}(\+\d{1,3})*$/.test(text)) {
    throw new TuneFault(`<beats> is ${quoted(beats.text.trim())}; a whole number is needed`, beats.place);
  }
  return text.split("+").reduce((sum, one) => sum + Number(one), 0);
}

/** `transpose`: chromatic semitones, diatonic steps for the spelling, and octaves. */
export function readTranspose(transpose: XmlElement): Transposition {
  const chromatic = Math.round(childNumber(transpose, "chromatic", -48, 48) ?? 0);
  const diatonic = childNumber(transpose, "diatonic", -28, 28) ?? Math.round((chromatic * 7) / 12);
  const octaves = Math.round(childNumber(transpose, "octave-change", -4, 4) ?? 0);
  // [calc] A fifth up is 7 semitones and 4 steps: 7 · 7 - 12 · 4 = 1 step along the line of fifths; an octave is 0.
  return { semitones: chromatic + 12 * octaves, fifths: 7 * chromatic - 12 * Math.round(diatonic) };
}

/** Fifths of a signature as it sounds, within seven. */
export function soundingFifths(fifths: number, moved: Transposition): number {
  const sum = fifths + moved.fifths;
  // [calc] Twelve fifths up are seven octaves: the same notes by simpler names.
  const turns = Math.ceil((Math.abs(sum) - MOST_FIFTHS) / 12);
  return turns > 0 ? sum - 12 * turns * Math.sign(sum) : sum;
}
