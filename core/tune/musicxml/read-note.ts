import type { Ornament } from "../tune.ts";
import type { WrittenNote } from "../written-bar.ts";
import type { Transposition } from "./attributes.ts";
import { ornamentOfElement } from "./ornament-names.ts";
import { readPitch } from "./pitches.ts";
import { child, childrenOf, childText, type XmlElement } from "./xml-tree.ts";

/** A note as it stands in the file, without its time. */
export interface FileNote extends Omit<WrittenNote, "atTicks" | "lengthTicks" | "chord"> {
  readonly rounded: boolean;
}

/** Voice a note belongs to; "1" where it says none. */
export const voiceOf = (note: XmlElement): string => childText(note, "voice") ?? "1";

/** Whether a `note` sounds in the melody: no rest, no cue note, and of a pitch. */
export const sounds = (note: XmlElement): boolean =>
  child(note, "pitch") !== null && child(note, "cue") === null;

/** @throws TuneFault where the pitch is none */
export function readFileNote(note: XmlElement, pitch: XmlElement, moved: Transposition): FileNote {
  const { midi, name, rounded } = readPitch(pitch, moved);
  return { midi, name, rounded, place: note.place, tiedOn: isTiedOn(note), ornaments: ornamentsOf(note) };
}

/** `tie` is what sounds; some files have only `tied`, what is drawn. */
function isTiedOn(note: XmlElement): boolean {
  const ties = childrenOf(note, "tie");
  const drawn = childrenOf(note, "notations").flatMap((one) => childrenOf(one, "tied"));
  return (ties.length > 0 ? ties : drawn).some((one) => one.attributes.type === "start");
}

function ornamentsOf(note: XmlElement): readonly Ornament[] {
  const notations = childrenOf(note, "notations").flatMap((one) => one.children);
  const kinds = notations.flatMap((one) => {
    const lone = ornamentOfElement("notations", one.name);
    return lone === null ? one.children.map((inner) => kindOf(one.name, inner)) : [lone];
  });
  return [...new Set(kinds)].flatMap((kind) => (kind === null ? [] : [{ kind, notes: [] }]));
}

/** A name of at most some words: what `other-ornament` holds is anyone's text. */
function kindOf(container: string, element: XmlElement): string | null {
  if (element.name !== "other-ornament") return ornamentOfElement(container, element.name);
  const text = element.text.trim();
  return /^[A-Za-z][A-Za-z0-9 -]{0,30}$/.test(text) ? text.toLowerCase() : null;
}
