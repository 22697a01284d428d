import { fieldValue, type TuneLine } from "./body-lines.ts";
import type { FieldToken, Slip, Token } from "./music-tokens.ts";
import { voiceField } from "./read-header.ts";
import { MusicLine, type Scanned, type Symbols } from "./scan-music.ts";

/** Fields of the body that belong to the voice they stand in. */
const OF_A_VOICE = "KLMPQ";

export interface ScannedBody {
  readonly tokens: readonly Token[];
  readonly slips: readonly Slip[];
  /** As long as the tune's text: what the parser is given. */
  readonly notes: string;
}

/**
 * Names of the voices of a tune in the order they come, by V: in the header and the body.
 *
 * @returns empty where there is no V: at all
 */
export function voicesOf(declared: readonly string[], body: readonly TuneLine[]): readonly string[] {
  const used = new Set<string>();
  for (const { kind, text } of body) {
    if (kind === "field" && text.startsWith("V:")) used.add(voiceField(fieldValue(text)).name);
    if (kind !== "music") continue;
    for (const [, value = ""] of text.matchAll(/\[V:([^\]]*)\]/g)) used.add(voiceField(value).name);
  }
  if (used.size === 0) return declared.slice(0, 1);
  const first = declared.filter((name) => used.has(name));
  return [...new Set([...first, ...used])];
}

/**
 * Scans the lines of the body for one voice.
 *
 * @param voice the one to hear; null where the tune has none
 * @param first name of the voice that what stands before the first V: belongs to
 */
export function scanBody(
  body: readonly TuneLine[],
  {
    length,
    symbols,
    voice,
    first,
  }: {
    readonly length: number;
    readonly symbols: Symbols;
    readonly voice: string | null;
    readonly first: string | null;
  },
): ScannedBody {
  const out: Scanned = { tokens: [], slips: [], kept: new Array<string>(length).fill(" ") };
  let current = first;
  let named = false;
  for (const [index, line] of body.entries()) {
    if (line.kind === "music") {
      current = scanLine(line, out, symbols, { current, voice });
    } else if (line.kind === "directive") {
      out.tokens.push({ kind: "field", at: line.offset, letter: "I", value: line.text.slice(2).trim() });
    } else if (line.kind === "field") {
      const field = fieldToken(line);
      if (field.letter === "V") {
        current = voiceField(field.value).name;
        named = true;
        if (current === voice) out.tokens.push(field);
      } else if (
        !OF_A_VOICE.includes(field.letter) ||
        !named ||
        current === voice ||
        (field.letter === "P" && leadsIn(body, index, voice))
      ) {
        out.tokens.push(field);
      }
    }
  }
  return { tokens: out.tokens, slips: out.slips, notes: out.kept.join("") };
}

const fieldToken = ({ offset, text }: TuneLine): FieldToken => ({
  kind: "field",
  at: offset,
  letter: text.charAt(0),
  value: fieldValue(text),
});

/** A P: between the systems stands before the V: of the next. */
function leadsIn(body: readonly TuneLine[], index: number, voice: string | null): boolean {
  const next = body.slice(index + 1).find((line) => line.kind === "field" && !/^[wsr]:/.test(line.text));
  return next?.text.startsWith("V:") === true && voiceField(fieldValue(next.text)).name === voice;
}

/** @returns the voice at the end of the line */
function scanLine(
  line: TuneLine,
  out: Scanned,
  symbols: Symbols,
  { current, voice }: { readonly current: string | null; readonly voice: string | null },
): string | null {
  const music = new MusicLine(line.text, line.offset, symbols, out);
  let heard = current;
  for (let change = music.scan(heard === voice); change !== null; change = music.scan(heard === voice)) {
    heard = voiceField(change).name;
  }
  return heard;
}
