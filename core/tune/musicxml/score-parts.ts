import { quoted } from "../../reading/quoting.ts";
import { TuneFault } from "../tune-fault.ts";
import { child, childrenOf, childText, type XmlElement } from "./xml-tree.ts";

export interface ScorePart {
  readonly id: string;
  /** As printed beside its staff; its id where it has no name. */
  readonly name: string;
  readonly measures: readonly XmlElement[];
}

/**
 * Parts of a score in the order of its `part-list`; a score-timewise is turned round.
 *
 * @throws TuneFault where the file is something else, or has no part
 */
export function scoreParts(root: XmlElement): readonly ScorePart[] {
  const bodies = bodiesOf(root);
  const names = new Map(
    childrenOf(child(root, "part-list"), "score-part").map((one) => [
      one.attributes.id ?? "",
      childText(one, "part-name") ?? "",
    ]),
  );
  const order = [...names.keys()].filter((id) => bodies.has(id));
  const unlisted = [...bodies.keys()].filter((id) => !names.has(id));
  const parts = [...order, ...unlisted].map((id) => ({
    id,
    name: names.get(id)?.replace(/\s+/g, " ") || id,
    measures: bodies.get(id) ?? [],
  }));
  if (parts.length === 0) throw new TuneFault(`<${root.name}> holds no part`, root.place);
  return parts;
}

function bodiesOf(root: XmlElement): ReadonlyMap<string, readonly XmlElement[]> {
  if (root.name === "score-partwise") {
    return new Map(
      childrenOf(root, "part").map((part) => [part.attributes.id ?? "", childrenOf(part, "measure")]),
    );
  }
  if (root.name === "score-timewise") return turnedRound(root);
  if (root.name === "opus")
    throw new TuneFault("an opus only lists other files: open one of them", root.place);
  throw new TuneFault(
    `not MusicXML: the root is ${quoted(root.name)}, not score-partwise or score-timewise`,
    root.place,
  );
}

/** Measures of parts, instead of parts within measures. */
function turnedRound(root: XmlElement): ReadonlyMap<string, readonly XmlElement[]> {
  const parts = new Map<string, XmlElement[]>();
  for (const measure of childrenOf(root, "measure")) {
    for (const part of childrenOf(measure, "part")) {
      const id = part.attributes.id ?? "";
      const measures = parts.get(id) ?? [];
      parts.set(id, measures);
      measures.push({ ...measure, children: part.children, place: part.place });
    }
  }
  return parts;
}
