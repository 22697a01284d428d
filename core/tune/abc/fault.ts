/** Within the reader of one tune: its text asks for what cannot be, and the tune is given up. */
export class Fault extends Error {
  readonly at: number;

  /** @param at character of the tune's text */
  constructor(at: number, words: string) {
    super(words);
    this.at = at;
  }
}
