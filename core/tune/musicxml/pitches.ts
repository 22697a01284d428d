import { ownRow } from "../../reading/own-row.ts";
import { quoted } from "../../reading/quoting.ts";
import { type Midi, midi } from "../../units.ts";
import { TuneFault } from "../tune-fault.ts";
import type { Transposition } from "./attributes.ts";
import { childNumber, childText, type XmlElement } from "./xml-tree.ts";

export interface ReadPitch {
  readonly midi: Midi;
  /** As it sounds, with octave. */
  readonly name: string;
  /** The file asks for a pitch between two keys of a piano: the nearest is taken. */
  readonly rounded: boolean;
}

const LINE_OF_FIFTHS = "FCGDAEB";
const STEPS: Readonly<Record<string, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };

/**
 * `pitch`: step, alter and octave, as it sounds.
 *
 * @throws TuneFault where one of them is missing or beyond what can be
 */
export function readPitch(pitch: XmlElement, moved: Transposition): ReadPitch {
  const step = childText(pitch, "step") ?? "";
  const above = ownRow(STEPS, step);
  if (above === undefined) {
    throw new TuneFault(`<step> is ${quoted(step)}; a letter from A to G is needed`, pitch.place);
  }
  const alter = childNumber(pitch, "alter", -3, 3) ?? 0;
  const octave = childNumber(pitch, "octave", 0, 9);
  if (octave === null || !Number.isInteger(octave))
    throw new TuneFault("<pitch> has no whole <octave>", pitch.place);
  const semitones = Math.round(alter);
  const sounds = 12 * (octave + 1) + above + semitones + moved.semitones;
  if (sounds < 0 || sounds > 127) throw new TuneFault("<pitch> is beyond what can be heard", pitch.place);
  return {
    midi: midi(sounds),
    name: nameOf(LINE_OF_FIFTHS.indexOf(step) + 7 * semitones + moved.fifths, sounds),
    rounded: semitones !== alter,
  };
}

/** The name at a place on the line of fifths, F = 0; three accidentals are more than a staff has, so there a simpler one. */
function nameOf(place: number, sounds: number): string {
  let plain = place;
  while (plain > 20) plain -= 12;
  while (plain < -14) plain += 12;
  const accidentals = Math.floor(plain / 7);
  const letter = LINE_OF_FIFTHS.charAt(plain - 7 * accidentals);
  const octave = Math.floor((sounds - accidentals) / 12) - 1;
  return letter + (accidentals < 0 ? "b" : "#").repeat(Math.abs(accidentals)) + octave;
}
