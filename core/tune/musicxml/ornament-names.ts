/** Where MusicXML 4.0 has an element for an ornament: its container under `notations`, and its name. */
export interface OrnamentElement {
  readonly kind: string;
  readonly container: "ornaments" | "articulations" | "technical" | "notations";
  readonly name: string;
}

const row = (kind: string, container: OrnamentElement["container"], name: string): OrnamentElement => ({
  kind,
  container,
  name,
});

/** Our kinds are ABC's names. The first row of a kind is how it is written; all rows are read. */
const ROWS: readonly OrnamentElement[] = [
  row("trill", "ornaments", "trill-mark"),
  row("turn", "ornaments", "turn"),
  row("invertedturn", "ornaments", "inverted-turn"),
  row("turnx", "ornaments", "vertical-turn"),
  row("invertedturnx", "ornaments", "inverted-vertical-turn"),
  row("lowermordent", "ornaments", "mordent"),
  row("uppermordent", "ornaments", "inverted-mordent"),
  row("slide", "articulations", "scoop"),
  row("accent", "articulations", "accent"),
  row("accent", "articulations", "strong-accent"),
  row("staccato", "articulations", "staccato"),
  row("tenuto", "articulations", "tenuto"),
  row("staccato", "articulations", "detached-legato"),
  row("wedge", "articulations", "staccatissimo"),
  row("wedge", "articulations", "spiccato"),
  row("breath", "articulations", "breath-mark"),
  row("upbow", "technical", "up-bow"),
  row("downbow", "technical", "down-bow"),
  row("open", "technical", "open-string"),
  row("thumb", "technical", "thumb-position"),
  row("plus", "technical", "stopped"),
  row("snap", "technical", "snap-pizzicato"),
  row("fermata", "notations", "fermata"),
  row("arpeggio", "notations", "arpeggiate"),
];

/** The element for an ornament; without one of its own it is an `other-ornament` with its name as text. */
export function elementOfOrnament(kind: string): OrnamentElement {
  return ROWS.find((one) => one.kind === kind) ?? row(kind, "ornaments", "other-ornament");
}

/** The ornament an element under `notations` stands for; null for what is none. */
export function ornamentOfElement(container: string, name: string): string | null {
  return ROWS.find((one) => one.container === container && one.name === name)?.kind ?? null;
}
