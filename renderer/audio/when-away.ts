/** What becomes of an open microphone while the window is not looked at. */
export const WHEN_AWAY = ["closes when hidden", "closes when behind", "stays open"] as const;
export type WhenAway = (typeof WHEN_AWAY)[number];

/** A hidden window cannot say that a microphone is open. */
export const USUAL_WHEN_AWAY: WhenAway = "closes when hidden";
