import type { Place } from "./tune.ts";

/** Why a file cannot be read, thrown inside a reader and handed back by it as a value. */
export class TuneFault extends Error {
  constructor(reason: string, place: Place | null = null) {
    super(place === null ? reason : `line ${place.line}, column ${place.column}: ${reason}`);
  }
}
