import { LIMITS } from "../../core/reading/limits.ts";

const MEGABYTE = 1_000_000;

/** Why a recording is too large to be opened, as the end of a sentence; null where it is not. */
export function whyTooLarge(bytes: number): string | null {
  const { most } = LIMITS.soundWindowBytes;
  return bytes > most
    ? `it has ${Math.round(bytes / MEGABYTE)} MB; at most ${most / MEGABYTE} MB can be opened`
    : null;
}

/** The bytes of a recording. Rejects, before any of it is held, with the reason where it is too large. */
export async function recordingBytes(file: Blob): Promise<ArrayBuffer> {
  const reason = whyTooLarge(file.size);
  if (reason !== null) throw new Error(reason);
  return file.arrayBuffer();
}
