/** A line of a tune and what kind it is. */
export interface TuneLine {
  /** Of its first character, from the beginning of the tune's text. */
  readonly offset: number;
  readonly text: string;
  readonly kind: "field" | "directive" | "comment" | "music" | "continued";
}

const FIELD = /^[A-Za-z]:/;
/** Letters of fields the body may have (ABC 2.1, 3). */
const BODY_FIELDS = "IKLMmNPQRrsTUVWwX";

/**
 * The lines of a tune. In the body a note letter before a bar line, "d:|", is music; between %%begintext and %%endtext and
 * the like nothing is.
 */
export function tuneLines(text: string): readonly TuneLine[] {
  const lines: TuneLine[] = [];
  let offset = 0;
  let inBody = false;
  let until: string | null = null;
  for (const line of text.split("\n")) {
    const kind = until === null ? kindOf(line, inBody) : "comment";
    const block: string | undefined = /^%%begin(\w+)/.exec(line)?.[1];
    if (until === null && block !== undefined) until = `%%end${block}`;
    else if (until !== null && line.startsWith(until)) until = null;
    lines.push({ offset, text: line, kind });
    if (kind === "field" && line.startsWith("K:")) inBody = true;
    offset += line.length + 1;
  }
  return lines;
}

function kindOf(line: string, inBody: boolean): TuneLine["kind"] {
  if (line.startsWith("%%")) return "directive";
  if (/^\s*(%|$)/.test(line)) return "comment";
  if (line.startsWith("+:")) return "continued";
  if (!FIELD.test(line)) return "music";
  const music = inBody && !BODY_FIELDS.includes(line.charAt(0)) && /^[A-Ga-gxz]:[|:\]]/.test(line);
  return music ? "music" : "field";
}

/** The value of a field line, without its letter and comment; "\%" is a percent sign (ABC 2.1, 2.2.5). */
export function fieldValue(line: string): string {
  return withoutComment(line.slice(2)).trim();
}

export function withoutComment(text: string): string {
  return text.replace(/(^|[^\\])%.*$/, "$1");
}
