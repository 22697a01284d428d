/** What sound comes in and goes out by where nothing was chosen for a stream, by name; null where nobody says. */
export interface WaysByName {
  readonly input: string | null;
  readonly output: string | null;
}

export type NotLookedAt = "hidden" | "behind another window";

/** What an open microphone has around it: devices that come and go, the window that is looked at, and the sign that it is open. */
export interface Surroundings {
  readonly ways: () => WaysByName;
  /** @returns how to be told no more */
  readonly onWays: (listener: () => void) => () => void;
  /** How the window is not looked at just now, where the player wants the microphone closed then; else null. */
  readonly notLookedAt: () => NotLookedAt | null;
  readonly onNotLookedAt: (listener: (how: NotLookedAt) => void) => () => void;
  /** Says that a microphone is open. @returns how to say that it is closed again */
  readonly opened: (deviceName: string) => () => void;
}

/** Nothing around it: no devices are followed, and nobody looks away. */
export const NOTHING_AROUND: Surroundings = {
  ways: () => ({ input: null, output: null }),
  onWays: () => () => {},
  notLookedAt: () => null,
  onNotLookedAt: () => () => {},
  opened: () => () => {},
};
