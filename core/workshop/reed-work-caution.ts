/**
 * What to mind when reeds are worked on, in plain advice; on every screen, sheet and answer that speaks of such work. Lead is
 * taken in by mouth and as dust (safety sheet of a stained-glass workshop, ribbeckeglass.com); the rest is common practice.
 */
export const REED_WORK_CAUTION =
  "Wear eye protection. Keep filings off your skin, food and the instrument; wipe with a damp cloth and wash hands. Use no leaded solder on the instrument. Keep small parts and sharp tools from children. If you are unsure, ask a qualified repairer. Local rules for such work come first.";
