import { shown } from "../reading/json-values.ts";
import { milliseconds } from "../units.ts";
import { ATTEMPT_SCHEMA, ATTEMPT_VERSION, type Attempt } from "./attempt.ts";
import { USUAL_TOLERANCES } from "./mark.ts";

export type ReadAttempt =
  | { readonly kind: "attempt"; readonly attempt: Attempt }
  | { readonly kind: "unreadable"; readonly reason: string };

/** What version 2 says of a mark beyond version 1, where nothing is known of it. */
const UNTOLD_OF_MARK = {
  reedCents: null,
  scoop: null,
  fall: null,
  hold: null,
  msFrom: null,
  msUncertain: milliseconds(0),
  lengthShare: null,
  diagnosis: null,
  secondReed: null,
};

/**
 * Reads an attempt as it was kept: of this version as it is, of version 1 with what it does not tell as null or empty.
 *
 * @param data as a program of this kind stored it; only schema and version are looked at
 */
export function readAttempt(data: unknown): ReadAttempt {
  if (typeof data !== "object" || data === null) return unreadable("not an attempt");
  const { schema, version } = data as { schema?: unknown; version?: unknown };
  if (schema !== ATTEMPT_SCHEMA) return unreadable(`not an attempt: "schema" is not "${ATTEMPT_SCHEMA}"`);
  if (version === ATTEMPT_VERSION) return { kind: "attempt", attempt: data as Attempt };
  if (version === 1) return { kind: "attempt", attempt: fromVersion1(data as Attempt) };
  return unreadable(
    typeof version === "number" && version > ATTEMPT_VERSION
      ? `made by a newer version of the program (attempt version ${version}, this one reads ${ATTEMPT_VERSION})`
      : `version: must be 1 to ${ATTEMPT_VERSION}, not ${shown(version)}`,
  );
}

/** @param kept an attempt that lacks what came after version 1, whatever its type says */
function fromVersion1(kept: Attempt): Attempt {
  const { notes, intonation, timing } = kept.summary;
  return {
    ...kept,
    version: ATTEMPT_VERSION,
    way: "in time",
    tolerances: { ...USUAL_TOLERANCES, ...kept.tolerances },
    summary: {
      notes,
      intonation: { ...intonation, bends: null, reedsTakenOff: 0 },
      timing: { ...timing, evennessShare: null, tempoDrift: null, swing: null },
      hold: null,
    },
    marks: kept.marks.map((mark) => ({ ...UNTOLD_OF_MARK, ...mark })),
    extras: kept.extras.map((extra) => ({ ...extra, diagnosis: null })),
    ornaments: [],
    abandoned: [],
    stretches: [],
    advice: [],
  };
}

const unreadable = (reason: string): ReadAttempt => ({ kind: "unreadable", reason });
