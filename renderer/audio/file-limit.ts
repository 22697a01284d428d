const MOST_MEGABYTES = 200;

/** Why a file is too large to be opened, as the end of a sentence; null where it is not. */
export function whyTooLarge(bytes: number): string | null {
  return bytes > MOST_MEGABYTES * 1_000_000
    ? `it has ${Math.round(bytes / 1_000_000)} MB; at most ${MOST_MEGABYTES} MB can be opened`
    : null;
}
