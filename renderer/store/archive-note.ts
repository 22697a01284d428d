/** How much was practised, what was made up apart. */
export interface Practised {
  readonly attempts: number;
  /** Days of practice. */
  readonly days: number;
}

/** What is known of archives on this machine; no archive holds it. */
export interface ArchiveNote {
  /** What had been practised when the last archive was saved; nothing where there was none. */
  readonly saved: Practised;
  /** Until when the player wants no reminder. */
  readonly quietUntilEpochMs: number;
}
