import { isTooDeep } from "../reading/json-values.ts";
import { LIMITS, moreThan } from "../reading/limits.ts";
import {
  ARCHIVE_SCHEMA,
  ARCHIVE_VERSION,
  type ArchiveRecord,
  NO_RECORDS,
  OLDEST_ARCHIVE_VERSION,
  RECORD_KINDS,
  type RecordCounts,
  type RecordKind,
} from "./archive-format.ts";
import { bytesInBase64 } from "./base64.ts";
import { parseCanonical } from "./canonical-json.ts";
import { checkValue, type TakePart } from "./record-shapes.ts";

/** What a file says from line to line. */
export type ArchiveEvent =
  | { readonly kind: "record"; readonly line: number; readonly record: ArchiveRecord }
  /** A record that cannot be read; the others can. */
  | { readonly kind: "fault"; readonly line: number; readonly reason: string }
  /** The file as a whole is not to be used; nothing follows. */
  | { readonly kind: "refused"; readonly reason: string }
  /** The file is whole. */
  | { readonly kind: "end"; readonly counts: RecordCounts };

/** Thrown by whoever unpacks a file: the end of a sentence about it. */
export class DamagedFile extends Error {
  override readonly name = "DamagedFile";
}

/**
 * Reads an archive as it is unpacked; never more of it than a line is held.
 *
 * @param texts the unpacked text in pieces of any length; may throw a DamagedFile
 * @returns records in the order of the file; last "end", or "refused" as soon as that is clear
 */
export async function* readArchive(texts: AsyncIterable<string>): AsyncGenerator<ArchiveEvent> {
  const reader = new LineReader();
  try {
    for await (const { line, text } of linesOf(texts)) {
      const event = reader.read(line, text);
      if (event !== null) yield event;
      if (event?.kind === "refused") return;
    }
  } catch (error) {
    if (!(error instanceof DamagedFile)) throw error;
    yield { kind: "refused", reason: error.message };
    return;
  }
  yield reader.end();
}

interface Line {
  readonly line: number;
  readonly text: string;
}

async function* linesOf(texts: AsyncIterable<string>): AsyncGenerator<Line> {
  let begun: string[] = [];
  let length = 0;
  let line = 1;
  for await (const text of texts) {
    let from = 0;
    for (let to = text.indexOf("\n"); to >= 0; to = text.indexOf("\n", from)) {
      checkLength(line, length + to - from);
      begun.push(text.slice(from, to));
      yield { line, text: begun.join("") };
      begun = [];
      length = 0;
      line += 1;
      from = to + 1;
    }
    begun.push(text.slice(from));
    length += text.length - from;
    checkLength(line, length);
  }
  if (length > 0) throw new DamagedFile(`cut off in line ${line}`);
}

/** @throws DamagedFile where a line has more than it may have */
function checkLength(line: number, characters: number): void {
  const most = line === 1 ? LIMITS.archiveHeaderCharacters : LIMITS.archiveLineCharacters;
  if (characters <= most.most) return;
  throw new DamagedFile(
    line === 1
      ? `not an archive of this program: its first line has ${moreThan(most)}`
      : `line ${line} has ${moreThan(most)}`,
  );
}

const refused = (reason: string): ArchiveEvent => ({ kind: "refused", reason });

interface Before {
  readonly kind: RecordKind;
  readonly id: string;
  /** Whether it could be read. */
  readonly read: boolean;
  /** Of a take, and the bytes of its parts so far. */
  readonly part: TakePart | null;
  readonly takeBytes: number;
}

/** Remembers of the lines so far what the next is checked against. */
class LineReader {
  private counts: RecordCounts | null = null;
  private before: Before | null = null;
  private ended = false;

  read(line: number, text: string): ArchiveEvent | null {
    if (isTooDeep(text)) return refused(`line ${line}: ${moreThan(LIMITS.jsonDepth)}`);
    const data = parsed(text);
    if (line === 1) return this.header(data);
    if (this.ended) return refused(`line ${line}: something follows the end`);
    if (data === null) return refused(`line ${line}: not a JSON object`);
    if (data.kind === "end") return this.last(line, data);
    return this.record(line, data);
  }

  end(): ArchiveEvent {
    if (this.counts === null) return refused("not an archive of this program: it is empty");
    if (!this.ended) return refused("cut off: its last line is missing");
    return this.openTake() === null
      ? { kind: "end", counts: this.counts }
      : refused("cut off: parts of the last take are missing");
  }

  private header(data: Fields | null): ArchiveEvent | null {
    if (data?.kind !== "header" || data.schema !== ARCHIVE_SCHEMA) {
      return refused("not an archive of this program");
    }
    const { version } = data;
    if (typeof version === "number" && version > ARCHIVE_VERSION) {
      return refused(
        `written by a newer version of this program (archive version ${version}, this one reads ${ARCHIVE_VERSION})`,
      );
    }
    if (typeof version !== "number" || !Number.isInteger(version) || version < OLDEST_ARCHIVE_VERSION)
      return refused(`line 1, version: must be ${OLDEST_ARCHIVE_VERSION} to ${ARCHIVE_VERSION}`);
    this.counts = NO_RECORDS;
    return null;
  }

  private last(line: number, { records }: Fields): ArchiveEvent | null {
    this.ended = true;
    const told = (typeof records === "object" && records !== null ? records : {}) as Fields;
    // An older version does not count what it did not know.
    const wrong = RECORD_KINDS.find((kind) => (told[kind] ?? 0) !== this.counts?.[kind]);
    return wrong === undefined
      ? null
      : refused(
          `line ${line}, records.${wrong}: says ${String(told[wrong])}, the file has ${this.counts?.[wrong]}`,
        );
  }

  private record(line: number, { kind, id, value }: Fields): ArchiveEvent {
    const known = RECORD_KINDS.find((one) => one === kind);
    if (known === undefined) return refused(`line ${line}, kind: there is no such kind of record`);
    if (typeof id !== "string" || id === "" || id.length > LIMITS.archiveIdCharacters.most) {
      return refused(
        `line ${line}, id: must be a text of 1 to ${LIMITS.archiveIdCharacters.most} characters`,
      );
    }
    const wrongPlace = this.wrongPlace(known, id);
    if (wrongPlace !== null) return refused(`line ${line}: ${wrongPlace}`);
    this.counts = { ...(this.counts ?? NO_RECORDS), [known]: (this.counts?.[known] ?? 0) + 1 };
    const trouble = checkValue(known, value) ?? (known === "take" ? this.wrongPart(value as TakePart) : null);
    if (trouble?.kind === "newer") return refused(`line ${line}, ${trouble.reason}`);
    const orphan = known === "take" && this.before?.read !== true;
    const read = trouble === null && !orphan;
    const part = read && known === "take" ? (value as TakePart) : null;
    this.before = { kind: known, id, read, part, takeBytes: part === null ? 0 : this.bytesWith(part) };
    if (trouble !== null) return { kind: "fault", line, reason: trouble.reason };
    if (orphan) return { kind: "fault", line, reason: "a take whose attempt cannot be read" };
    return { kind: "record", line, record: { kind: known, id, value } };
  }

  /** Why a record may not stand after the one before it. */
  private wrongPlace(kind: RecordKind, id: string): string | null {
    const { before } = this;
    const follows = kind === "take" && before !== null && before.id === id && isOfAttempt(before.kind);
    if (kind === "take") return follows ? null : "a take must follow its attempt";
    if (this.openTake() !== null) return "parts of the take before are missing";
    if (before === null) return null;
    const group = RECORD_KINDS.indexOf(before.kind === "take" ? "attempt" : before.kind);
    const isLater = RECORD_KINDS.indexOf(kind) - group || (id > before.id ? 1 : -1);
    return isLater > 0 ? null : `${kind} ${id} is not in order of kind and id, or there twice`;
  }

  /** The last take read, where parts of it are missing. */
  private openTake(): TakePart | null {
    const part = this.before?.part ?? null;
    return part !== null && part.part + 1 < part.parts ? part : null;
  }

  private wrongPart(part: TakePart): { readonly kind: "fault"; readonly reason: string } | null {
    const last = this.before?.kind === "take" ? this.before.part : null;
    const fits =
      last === null
        ? part.part === 0
        : part.part === last.part + 1 && JSON.stringify(part.about) === JSON.stringify(last.about);
    if (!fits || part.part >= part.parts || (last !== null && last.parts !== part.parts)) {
      return { kind: "fault", reason: `value.part: ${part.part} of ${part.parts} does not follow` };
    }
    const bytes = this.bytesWith(part);
    if (part.part + 1 < part.parts || canHold(part.about, bytes)) return null;
    return {
      kind: "fault",
      reason: `value.about.count: ${bytes} bytes cannot be ${part.about.count} samples`,
    };
  }

  private bytesWith(part: TakePart): number {
    return (part.part === 0 ? 0 : (this.before?.takeBytes ?? 0)) + bytesInBase64(part.bytes);
  }
}

/** A packed sample needs a bit at the least. */
const canHold = ({ form, count }: TakePart["about"], bytes: number) =>
  form === "float32" ? bytes === 4 * count : count <= 8 * bytes;

const isOfAttempt = (kind: RecordKind) => kind === "attempt" || kind === "take";

type Fields = Readonly<Record<string, unknown>>;

function parsed(text: string): Fields | null {
  try {
    const data = parseCanonical(text);
    return typeof data === "object" && data !== null && !Array.isArray(data) ? (data as Fields) : null;
  } catch {
    return null;
  }
}
