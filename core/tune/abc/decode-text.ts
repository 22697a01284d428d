const BYTE_ORDER_MARK = "\uFEFF";

/**
 * Text of a file: UTF-8, or Latin-1 where it is not valid UTF-8; UTF-16 where its byte order mark says so. The mark is left
 * out, and every line end (CR, LF, CR LF) is one line feed. ABC 2.1, 2.2.4 and 8.
 */
export function decodeText(bytes: Uint8Array): string {
  return withLineFeeds(withoutMark(charactersOf(bytes)));
}

/** Every line end as one line feed. */
export function withLineFeeds(text: string): string {
  return text.includes("\r") ? text.replace(/\r\n?/g, "\n") : text;
}

export function withoutMark(text: string): string {
  return text.startsWith(BYTE_ORDER_MARK) ? text.slice(1) : text;
}

function charactersOf(bytes: Uint8Array): string {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return inPairs(bytes, 0, 1);
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return inPairs(bytes, 1, 0);
  return utf8(bytes) ?? latin1(bytes);
}

/** Units are joined in pieces: a call has room for only so many arguments. */
const PIECE = 8192;

function joined(units: Uint16Array | Uint8Array): string {
  const pieces: string[] = [];
  for (let at = 0; at < units.length; at += PIECE) {
    pieces.push(String.fromCharCode(...units.subarray(at, at + PIECE)));
  }
  return pieces.join("");
}

const latin1 = (bytes: Uint8Array): string => joined(bytes);

function inPairs(bytes: Uint8Array, low: 0 | 1, high: 0 | 1): string {
  const units = new Uint16Array(Math.floor(bytes.length / 2));
  for (let at = 0; at < units.length; at++) {
    units[at] = (bytes[2 * at + low] ?? 0) | ((bytes[2 * at + high] ?? 0) << 8);
  }
  return joined(units);
}

/** Null where the bytes are not UTF-8. Written here because core is compiled without the browser's decoder. */
function utf8(bytes: Uint8Array): string | null {
  const units = new Uint16Array(bytes.length);
  let length = 0;
  for (let at = 0; at < bytes.length; ) {
    const byte = bytes[at] ?? 0;
    if (byte < 0x80) {
      units[length++] = byte;
      at++;
      continue;
    }
    const point = codePointAt(bytes, at);
    if (point === null) return null;
    at += point.size;
    if (point.value < 0x10000) {
      units[length++] = point.value;
    } else {
      units[length++] = 0xd800 + ((point.value - 0x10000) >> 10);
      units[length++] = 0xdc00 + ((point.value - 0x10000) & 0x3ff);
    }
  }
  return joined(units.subarray(0, length));
}

/** Lead bytes: how many bytes follow, what the lead gives, and the least value so written (RFC 3629). */
function codePointAt(bytes: Uint8Array, at: number): { value: number; size: number } | null {
  const lead = bytes[at] ?? 0;
  const more = lead >= 0xf0 ? 3 : lead >= 0xe0 ? 2 : lead >= 0xc0 ? 1 : 0;
  if (more === 0 || lead > 0xf4) return null;
  let value = lead & (0x3f >> more);
  for (let next = 1; next <= more; next++) {
    const byte = bytes[at + next] ?? 0;
    if ((byte & 0xc0) !== 0x80) return null;
    value = (value << 6) | (byte & 0x3f);
  }
  const least = more === 3 ? 0x10000 : more === 2 ? 0x800 : 0x80;
  const surrogate = value >= 0xd800 && value <= 0xdfff;
  return value < least || value > 0x10ffff || surrogate ? null : { value, size: more + 1 };
}
