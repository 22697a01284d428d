/** One part of the workshop's bench: what it is called, and its report, computed when asked for. */
export interface BenchSection {
  readonly name: string;
  /** Lines for a terminal; throws if what it needs of the machine is missing, naming it. */
  readonly run: () => Promise<readonly string[]> | readonly string[];
}
