/** The steps of a first visit, in the order they are taken. */
export const FIRST_STEPS = ["harp", "microphone", "drill"] as const;
export type FirstStep = (typeof FIRST_STEPS)[number];

/** What became of them; those that are absent are open. */
export type StepStates = Readonly<Partial<Record<string, "done" | "skipped">>>;

/** The first step that is open; null where none is. */
export function stepNow(steps: StepStates): FirstStep | null {
  return FIRST_STEPS.find((step) => steps[step] === undefined) ?? null;
}
