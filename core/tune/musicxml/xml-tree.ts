import { SaxesParser } from "saxes";
import { LIMITS, moreThan } from "../../reading/limits.ts";
import { quoted } from "../../reading/quoting.ts";
import type { Place } from "../tune.ts";
import { TuneFault } from "../tune-fault.ts";

/** An element of a file that was read. */
export interface XmlElement {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly XmlElement[];
  /** Its own text, without that of its elements. */
  readonly text: string;
  /** Where it begins. */
  readonly place: Place;
}

interface OpenElement extends XmlElement {
  readonly children: OpenElement[];
  text: string;
}

/** What `decodeText` can have read the file as. */
const ENCODINGS = /^(utf-?8|utf-?16([lb]e)?|us-ascii|ascii|iso-8859-1|latin-?1|windows-1252)$/i;

/**
 * Reads XML into its elements. Nothing outside the file is ever fetched, and a file that defines entities of its own is
 * refused.
 *
 * @throws TuneFault with line and column where it is not well-formed, cut off, or beyond the limits
 */
export function readXml(text: string): XmlElement {
  // The parser tells text before the first element only when it meets the end of it.
  if (!/^\s*</.test(text)) throw new TuneFault(`not XML: it begins with ${quoted(text.trim().slice(0, 20))}`);
  const parser = new SaxesParser({ position: true, xmlns: false });
  const open: OpenElement[] = [];
  let root: OpenElement | null = null;
  let count = 0;
  let begins: Place = { line: 1, column: 1 };
  const here = (): Place => ({ line: parser.line, column: parser.column + 1 });
  parser.on("error", (error) => {
    throw new TuneFault(plainReason(error.message, open.at(-1)), here());
  });
  parser.on("xmldecl", ({ encoding }) => {
    if (encoding !== undefined && !ENCODINGS.test(encoding)) {
      throw new TuneFault(`the encoding ${quoted(encoding)} is not read; save the file as UTF-8`, here());
    }
  });
  parser.on("doctype", (doctype) => {
    if (doctype.includes("[")) {
      throw new TuneFault("the DOCTYPE defines entities of its own, which are never read", here());
    }
  });
  parser.on("opentagstart", ({ name }) => {
    begins = { line: parser.line, column: Math.max(1, parser.column - name.length - 1) };
  });
  parser.on("opentag", ({ name, attributes }) => {
    if (++count > LIMITS.xmlElements.most) {
      throw new TuneFault(moreThan(LIMITS.xmlElements), here());
    }
    if (open.length >= LIMITS.xmlDepth.most) {
      throw new TuneFault(moreThan(LIMITS.xmlDepth), here());
    }
    const element: OpenElement = { name, attributes, children: [], text: "", place: begins };
    open.at(-1)?.children.push(element);
    root ??= element;
    open.push(element);
  });
  const addText = (piece: string) => {
    const element = open.at(-1);
    if (element !== undefined) element.text += piece;
  };
  parser.on("text", addText);
  parser.on("cdata", addText);
  parser.on("closetag", () => {
    open.pop();
  });
  parser.write(text).close();
  return root ?? fail();
}

function fail(): never {
  throw new TuneFault("no XML element is in the file");
}

/** The parser puts line and column before its message, and at a file's end says only that tags are open. */
function plainReason(message: string, inside: XmlElement | undefined): string {
  const reason = message.replace(/^\d+:\d+: /, "").replace(/\.$/, "");
  if (/^unclosed tag/.test(reason) && inside)
    return `the file ends inside <${inside.name}>: it is cut off or broken`;
  return `not well-formed XML: ${reason}`;
}

/** The first element of this name within. */
export function child(element: XmlElement | null, name: string): XmlElement | null {
  return element?.children.find((one) => one.name === name) ?? null;
}

/** All elements of this name within. */
export function childrenOf(element: XmlElement | null, name: string): readonly XmlElement[] {
  return element?.children.filter((one) => one.name === name) ?? [];
}

/** Text of an element within, trimmed; null where there is none or it is empty. */
export function childText(element: XmlElement | null, name: string): string | null {
  const text = child(element, name)?.text.trim() ?? "";
  return text === "" ? null : text;
}

/**
 * Number in an element within; null where there is no such element.
 *
 * @throws TuneFault where it is no number, or not within the bounds
 */
export function childNumber(element: XmlElement, name: string, least: number, most: number): number | null {
  const found = child(element, name);
  if (found === null) return null;
  const text = found.text.trim();
  const value = /^[+-]?(\d+\.?\d*|\.\d+)$/.test(text) ? Number(text) : Number.NaN;
  if (!(value >= least && value <= most)) {
    throw new TuneFault(
      `<${name}> is ${quoted(text)}; a number from ${least} to ${most} is needed`,
      found.place,
    );
  }
  return value;
}
