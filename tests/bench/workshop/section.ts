/** What is asked of a bench on the command line. */
export interface BenchOptions {
  /** `--seeds=1,2,3`; null where the section's own are to be used. */
  readonly seeds: readonly number[] | null;
}

/** One part of the workshop's bench: what it is called, and its report, computed when asked for. */
export interface BenchSection {
  readonly name: string;
  /** Lines for a terminal; throws if what it needs of the machine is missing, naming it. */
  readonly run: (options: BenchOptions) => Promise<readonly string[]> | readonly string[];
}
