/** An element to write: its name, attributes and content, each on its own where it has elements. */
export type XmlContent = string | readonly XmlNode[];
export interface XmlNode {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string | number>>;
  readonly content: XmlContent;
}

/** An element of content alone. */
export function element(name: string, content: XmlContent | number = []): XmlNode {
  return { name, attributes: {}, content: typeof content === "number" ? String(content) : content };
}

/** An element with attributes. */
export function elementWith(
  name: string,
  attributes: XmlNode["attributes"],
  content: XmlContent = [],
): XmlNode {
  return { name, attributes, content };
}

/** The element as text, one line for each element without elements. */
export function xmlText(node: XmlNode, indent = ""): string {
  const attributes = Object.entries(node.attributes).map(
    ([name, value]) => ` ${name}="${escaped(`${value}`)}"`,
  );
  const start = `${indent}<${node.name}${attributes.join("")}`;
  if (node.content.length === 0) return `${start}/>\n`;
  if (typeof node.content === "string") return `${start}>${escaped(node.content)}</${node.name}>\n`;
  const inner = node.content.map((one) => xmlText(one, `${indent}  `)).join("");
  return `${start}>\n${inner}${indent}</${node.name}>\n`;
}

const ESCAPES: Readonly<Record<string, string>> = { "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;" };

/** Characters XML 1.0 has no place for, not even escaped, become spaces. */
function escaped(text: string): string {
  return text
    .replace(/[^\t\n\r\u0020-\uD7FF\uE000-\uFFFD\u{10000}-\u{10FFFF}]/gu, " ")
    .replace(/[&<>"]/g, (sign) => ESCAPES[sign] ?? sign);
}
