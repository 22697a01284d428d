/**
 * Names a tune by its text: the same but for its number and spaces is the same tune. FNV-1a, 32 bits, from two offsets: good
 * enough to tell the tunes of one player apart. Source: Fowler, Noll and Vo.
 */
export function tuneId(abc: string): string {
  const text = abc
    .replace(/^X:.*$/m, "")
    .replace(/\s+/g, " ")
    .trim();
  return `tune-${hash(text, 0x811c9dc5)}${hash(text, 0x01000193)}`;
}

function hash(text: string, offset: number): string {
  let value = offset;
  for (let at = 0; at < text.length; at++) {
    value ^= text.charCodeAt(at);
    value = Math.imul(value, 0x01000193) >>> 0;
  }
  return value.toString(16).padStart(8, "0");
}
