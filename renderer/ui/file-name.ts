const LONGEST = 80;
/** Names of devices that one system does not take for files, whatever follows the dot. */
const DEVICES = /^(con|prn|aux|nul|com\d|lpt\d)$/i;

/**
 * A file name that every system takes, from any text: letters, digits and hyphens, at most 80 of them.
 *
 * @param otherwise used where nothing is left of the text
 */
export function fileNameOf(text: string, otherwise: string): string {
  const plain = text.normalize("NFC").replace(/[^\p{L}\p{N}]+/gu, "-");
  // The first half of a letter that was cut in two goes too.
  const cut = plain.slice(0, LONGEST).replace(/[\uD800-\uDBFF]$/, "");
  const name = cut.replace(/^-+|-+$/g, "");
  return name === "" || DEVICES.test(name) ? otherwise : name;
}
