/** The parts of the workshop, in the order of the work, with the question each answers. */
export const WORKSHOP_PARTS = [
  { part: "design", name: "Design a layout", asks: "What should I change, and is it worth it?" },
  { part: "retune", name: "Retuning plan", asks: "Which reeds do I work on, how far, and in which order?" },
  { part: "measure", name: "Measure the reeds", asks: "How is every reed of this harp tuned?" },
] as const;

export type WorkshopPart = (typeof WORKSHOP_PARTS)[number]["part"];

/** Where reeds are worked on, or that is decided: what to mind stands there. */
export const PARTS_WITH_REED_WORK: readonly WorkshopPart[] = ["design", "retune"];
