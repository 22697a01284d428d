import { signatureMode } from "../pitch/modes.ts";
import { abcModeWord } from "../tune/abc-header.ts";
import { fifthsOfKey, type Signature, signatureOfFifths } from "../tune/key-signature.ts";
import type { Exercise } from "./exercise.ts";

/** What stands after K: where an exercise is written on a staff, and the signature that makes. */
export interface StaffKey {
  readonly key: string;
  readonly signature: Signature;
}

/** The signature of a home note and mode; none where it would need more than seven sharps or flats. */
export function staffKeyOf({ home, mode }: Pick<Exercise, "home" | "mode">): StaffKey {
  const inSignature = signatureMode(mode);
  const fifths = fifthsOfKey(home, inSignature);
  return fifths === null
    ? { key: "C", signature: {} }
    : { key: home + abcModeWord(inSignature), signature: signatureOfFifths(fifths) };
}
