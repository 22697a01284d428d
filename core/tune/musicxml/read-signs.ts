import { MOST_TIMES } from "../abc/limits.ts";
import type { TempoField } from "../abc/tempo-field.ts";
import type { Jump } from "../written-bar.ts";
import { semibrevesOfType } from "./note-types.ts";
import { child, childrenOf, childText, type XmlElement } from "./xml-tree.ts";

/** What signs and words of a measure say about the order of playing; filled as they are met. */
export interface WaySigns {
  repeatFrom: number;
  repeatTo: number;
  ending: readonly number[] | null;
  doubleBar: boolean;
  /** A double bar line at the measure's beginning, which ends the one before. */
  doubleBefore: boolean;
  segno: boolean;
  coda: boolean;
  toCoda: boolean;
  fine: boolean;
  jump: Jump | null;
}

export const noSigns = (): WaySigns => ({
  repeatFrom: 0,
  repeatTo: 0,
  ending: null,
  doubleBar: false,
  doubleBefore: false,
  segno: false,
  coda: false,
  toCoda: false,
  fine: false,
  jump: null,
});

const DOUBLE = ["light-light", "light-heavy", "heavy-light", "heavy-heavy", "heavy"];

/**
 * `barline`: repeats, endings and double bar lines.
 *
 * @returns what it asks for that cannot be done, in words; else null
 */
export function readBarline(barline: XmlElement, signs: WaySigns): string | null {
  const location = barline.attributes.location ?? "right";
  const repeat = child(barline, "repeat");
  if (location === "middle") {
    return repeat === null ? null : "a repeat sign within a bar is not played";
  }
  const double = DOUBLE.includes(childText(barline, "bar-style") ?? "");
  if (location === "left") signs.doubleBefore ||= double;
  else signs.doubleBar ||= double;
  if (repeat?.attributes.direction === "forward") signs.repeatFrom = 2;
  if (repeat?.attributes.direction === "backward") signs.repeatTo = timesOf(repeat);
  for (const ending of childrenOf(barline, "ending")) {
    if (ending.attributes.type === "start") signs.ending = endingNumbers(ending.attributes.number ?? "");
  }
  return null;
}

function timesOf(repeat: XmlElement): number {
  const times = Number(repeat.attributes.times ?? "2");
  return Number.isInteger(times) && times >= 2 && times <= MOST_TIMES ? times : 2;
}

/** "1, 2" -> 1 and 2; null where no number stands in it. */
function endingNumbers(text: string): readonly number[] | null {
  const numbers = (text.match(/\d+/g) ?? []).map(Number).filter((one) => one >= 1 && one <= MOST_TIMES);
  return numbers.length === 0 ? null : numbers;
}

/** Attributes of `sound` that lead elsewhere; "no" as good as none. */
export function readSound(sound: XmlElement, signs: WaySigns): void {
  const says = (name: string) => !["", "no"].includes(sound.attributes[name] ?? "");
  if (says("segno")) signs.segno = true;
  if (says("coda")) signs.coda = true;
  if (says("tocoda")) signs.toCoda = true;
  if (says("fine")) signs.fine = true;
  if (says("dacapo")) signs.jump = { to: "beginning", until: "end" };
  if (says("dalsegno")) signs.jump = { to: "segno", until: "end" };
}

/** `direction`: its `sound`; without one, the segno sign and the usual words. */
export function readDirection(direction: XmlElement, signs: WaySigns): void {
  const sound = child(direction, "sound");
  if (sound !== null) readSound(sound, signs);
  const types = childrenOf(direction, "direction-type");
  if (types.some((one) => child(one, "segno") !== null)) signs.segno = true;
  const words = types.flatMap((one) => childrenOf(one, "words").map(({ text }) => text)).join(" ");
  if (/\bto coda\b/i.test(words)) signs.toCoda = true;
  else if (/^\s*coda\s*$/i.test(words)) signs.coda = true;
  if (/^\s*fine\s*$/i.test(words)) signs.fine = true;
  const jump = /\b(d\.?\s?c\.?|da capo|d\.?\s?s\.?|dal segno)(\s+al\s+(fine|coda))?(?![a-z])/i.exec(words);
  if (jump === null) return;
  const until = jump[3]?.toLowerCase() === "fine" ? "fine" : jump[3] ? "coda" : "end";
  signs.jump = { to: /^d\.?\s?s|segno/i.test(jump[1] ?? "") ? "segno" : "beginning", until };
}

/** A tempo in a `metronome` mark or a `sound` of a direction or measure; null where there is none. */
export function readTempo(element: XmlElement): TempoField | null {
  for (const type of childrenOf(element, "direction-type")) {
    const mark = metronome(child(type, "metronome"));
    if (mark !== null) return mark;
  }
  const sound = element.name === "sound" ? element : child(element, "sound");
  const crotchets = Number(sound?.attributes.tempo ?? "");
  if (!(crotchets > 0 && Number.isFinite(crotchets))) return null;
  // Counted in semibreves, which are nobody's beat: crotchets are only how the file counts.
  return { beat: 1, units: 1, perMinute: crotchets / 4 };
}

function metronome(mark: XmlElement | null): TempoField | null {
  if (mark === null) return null;
  const value = semibrevesOfType(childText(mark, "beat-unit") ?? "");
  const perMinute = Number(/\d+(\.\d+)?/.exec(childText(mark, "per-minute") ?? "")?.[0] ?? "0");
  if (value === null || !(perMinute > 0)) return null;
  const dots = childrenOf(mark, "beat-unit-dot").length;
  return { beat: value * (2 - 1 / 2 ** Math.min(dots, 2)), units: 1, perMinute };
}
