/**
 * How reeds are worked on and read, for screen and sheet. Sources: Handbook web extract "How to tune your harmonica" (order,
 * shim, face); "Tuning a harmonica to a professional standard", 2007 (passes, warmth); Hansson, How I tune harmonicas, part 4
 * (reading); what falls and creeps by harp-l, December 2007, msg 21.
 */
export const BENCH_ADVICE: readonly string[] = [
  "Gap, align and clear the slots first and tune last: all of that moves the pitch.",
  "Support the reed with a thin shim and never press it through its slot. Work on its face, not on its edges.",
  "Stop short of the goal, let the harp rest, then finish: a raised reed often creeps further up, a lowered one tends to stay.",
  "Read with a relaxed, steady breath and an open mouth, the plates a little warmer than the body; take several short readings and write down the middle one.",
  "Wipe filings off damp, do not blow them. No filing may be on the plate when the harp is played. Solder, if at all, without lead and with a window open.",
  "Clean the harp and your hands before and after. A harp that is played by one mouth is worked on for one mouth.",
];

/**
 * What warmth does to a reed, in cents for each degree Celsius it warms by: from the loss of stiffness, [calc] 1200 log2 of
 * sqrt(1 + dE/E) with dE/E of -4e-4 a degree for brass and -2.5e-4 for steel from memory, and expansion. No measured figure
 * for harmonicas was found, so no goal is moved by it.
 */
export const WARMTH_CENTS_PER_DEGREE = { brass: -0.3, steel: -0.2 } as const;

/** [calc] From 20 to 33 degrees: 13 times the figures above. */
export const WARMTH_ADVICE =
  "Warmth lowers a reed: from 20 to 33 °C by some 4 cents in brass and 3 in steel, by calculation. Read it equally warm each time.";
