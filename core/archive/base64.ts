const LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
const VALUES = new Map([...LETTERS].map((letter, value) => [letter.charCodeAt(0), value]));
const WELL_FORMED = /^[A-Za-z0-9+/]*={0,2}$/;

/** Letters put together at once: more would pass what a call may have of arguments. */
const GROUP = 3 * 1024;

/** Bytes as text. Source: RFC 4648, section 4. */
export function toBase64(bytes: Uint8Array): string {
  const parts: string[] = [];
  for (let at = 0; at < bytes.length; at += GROUP) parts.push(groupOf(bytes.subarray(at, at + GROUP)));
  return parts.join("");
}

function groupOf(bytes: Uint8Array): string {
  let text = "";
  for (let at = 0; at < bytes.length; at += 3) {
    const [a = 0, b, c] = [bytes[at], bytes[at + 1], bytes[at + 2]];
    const letter = (value: number) => LETTERS.charAt(value & 63);
    text += letter(a >> 2) + letter((a << 4) | ((b ?? 0) >> 4));
    text += b === undefined ? "=" : letter((b << 2) | ((c ?? 0) >> 6));
    text += c === undefined ? "=" : letter(c);
  }
  return text;
}

export const isBase64 = (text: string): boolean => text.length % 4 === 0 && WELL_FORMED.test(text);

/** How many bytes a well-formed text stands for. */
export const bytesInBase64 = (text: string): number =>
  (text.length / 4) * 3 - (text.endsWith("==") ? 2 : text.endsWith("=") ? 1 : 0);

/**
 * The bytes of a text.
 *
 * @throws RangeError if it is not well formed
 */
export function fromBase64(text: string): Uint8Array<ArrayBuffer> {
  if (!isBase64(text)) throw new RangeError("not base64");
  const bytes = new Uint8Array(bytesInBase64(text));
  const value = (at: number) => VALUES.get(text.charCodeAt(at)) ?? 0;
  for (let at = 0, to = 0; at < text.length; at += 4, to += 3) {
    const group = (value(at) << 18) | (value(at + 1) << 12) | (value(at + 2) << 6) | value(at + 3);
    // What lies beyond the end of the array is not kept.
    bytes[to] = group >> 16;
    bytes[to + 1] = group >> 8;
    bytes[to + 2] = group;
  }
  return bytes;
}
