import { letterName, pitchClass, pitchClassOfName } from "../../pitch/note-names.ts";
import type { TuneKey, TuneNote } from "../tune.ts";
import { signatureOf, type WrittenKey } from "./key-field.ts";

/**
 * The tune's key as it sounds.
 *
 * Sure only where the last note is the tonic: in the prints the key line often names the major or minor of the signature, and
 * the last note is the better guide to the mode.
 *
 * @param transpose semitones everything sounds above what is written
 */
export function tuneKey(written: WrittenKey, last: TuneNote | undefined, transpose: number): TuneKey {
  const ending = last?.name.replace(/-?\d+$/, "") ?? "C";
  const { mode } = written;
  if (written.tonic === null) return { tonic: ending, mode, signature: written.signature, sure: false };
  const home = pitchClass((pitchClassOfName(written.tonic) ?? 0) + transpose);
  const moved = pitchClass(transpose) !== 0;
  const tonic = moved ? letterName(home) : written.tonic;
  const signature = moved && mode !== null ? signatureOf(tonic, mode) : written.signature;
  const sure = mode !== null && last !== undefined && pitchClass(last.midi) === home;
  return { tonic, mode, signature, sure };
}
