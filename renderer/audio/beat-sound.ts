/** What a beat sounds like. */
export type BeatSound = "click" | "wood" | "tone";

export interface Beat {
  readonly sound: BeatSound;
  /** Whether the first beat of a bar is higher and louder. */
  readonly stressed: boolean;
}

let chosen: Beat = { sound: "click", stressed: true };

/** Sets the sound of the beats that are begun from now on. */
export function setBeat(beat: Beat): void {
  chosen = beat;
}

export const chosenBeat = (): Beat => chosen;
