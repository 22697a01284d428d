/** So many differences are told one by one. */
const MOST_TOLD = 100;

/** What is found, and whether it is to be put right. */
export class VerifyReport {
  readonly differences: string[] = [];
  different = 0;

  constructor(readonly repair: boolean) {}

  tell(words: string): void {
    this.different += 1;
    if (this.differences.length < MOST_TOLD) this.differences.push(words);
  }
}
