/** Characters that break a line, steer a terminal or turn the direction of writing; of a file they are shown as a space. */
const STEERING = /[\p{Cc}\p{Cf}\p{Zl}\p{Zp}\p{Cs}]+/gu;

/** Characters of a file that are shown in a reason. */
export const LONGEST = 40;

/** Words of a file, cut and without what could do anything but stand there. */
export function plainWords(text: string, longest: number): string {
  // What will be cut anyway is not gone through: a file may be one line of millions of letters.
  const line = text
    .slice(0, 4 * longest)
    .replace(STEERING, " ")
    .replace(/\s+/g, " ");
  const isCut = line.length > longest || text.length > 4 * longest;
  return isCut ? `${line.slice(0, longest - 3)}…` : line;
}

/** Words of a file in quotation marks, as they stand in a reason of ours. */
export const quoted = (text: string): string => JSON.stringify(plainWords(text, LONGEST));

/** A reason with another program's words in it, in one line. */
export const inLine = (reason: string): string => plainWords(reason, 300);
