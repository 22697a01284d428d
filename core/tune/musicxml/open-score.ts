import { beyond, LIMITS } from "../../reading/limits.ts";
import { quoted } from "../../reading/quoting.ts";
import { decodeText } from "../abc/decode-text.ts";
import { TuneFault } from "../tune-fault.ts";
import { isZip, unpack, type ZipEntry, zipEntries } from "./unzip.ts";
import { child, childrenOf, readXml, type XmlElement } from "./xml-tree.ts";

const CONTAINER = "META-INF/container.xml";

/**
 * The root element of a .musicxml or .mxl file, told apart by how they begin.
 *
 * @throws TuneFault where it cannot be read
 *
 * Source: MusicXML 4.0, "Compressed .mxl files": META-INF/container.xml names the score in its first `rootfile`.
 */
export function openScore(bytes: Uint8Array): XmlElement {
  if (bytes.length === 0) throw new TuneFault("an empty file");
  if (bytes.length > LIMITS.xmlBytes.most) {
    throw new TuneFault(`the file has ${beyond(bytes.length, LIMITS.xmlBytes)}`);
  }
  return readXml(decodeText(isZip(bytes) ? scoreOfZip(bytes) : bytes));
}

function scoreOfZip(bytes: Uint8Array): Uint8Array {
  const entries = zipEntries(bytes);
  const container = entries.find((entry) => entry.name === CONTAINER);
  const entry = container === undefined ? loneScore(entries) : listedScore(bytes, entries, container);
  return unpack(bytes, entry);
}

function listedScore(bytes: Uint8Array, entries: readonly ZipEntry[], container: ZipEntry): ZipEntry {
  const root = readXml(decodeText(unpack(bytes, container)));
  const files = childrenOf(child(root, "rootfiles"), "rootfile");
  const name = files[0]?.attributes["full-path"];
  if (name === undefined) throw new TuneFault(`${CONTAINER} names no score`);
  const entry = entries.find((one) => one.name === name);
  if (entry === undefined) {
    throw new TuneFault(`${CONTAINER} names ${quoted(name)}, which is not in the compressed file`);
  }
  return entry;
}

/** Without a container, some programs pack the score alone. */
function loneScore(entries: readonly ZipEntry[]): ZipEntry {
  const scores = entries.filter(({ name }) => /\.(musicxml|xml)$/i.test(name) && !/^META-INF\//i.test(name));
  const [only] = scores;
  if (only === undefined || scores.length > 1) {
    const found = only === undefined ? "no score" : `${scores.length} scores`;
    throw new TuneFault(`the compressed file has no ${CONTAINER}, and ${found} to take instead`);
  }
  return only;
}
