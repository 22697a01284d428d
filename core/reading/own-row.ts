/** A table's row for a word of a file. Words such as "constructor" name something in every object and are no rows. */
export const ownRow = <T>(table: Readonly<Record<string, T>>, word: string): T | undefined =>
  Object.hasOwn(table, word) ? table[word] : undefined;
