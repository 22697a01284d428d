import { powerSaveBlocker } from "electron";

let blocker: number | null = null;

/** Keeps the display on while the player practises without touching anything. Saying it twice changes nothing. */
export function keepAwake(awake: boolean): void {
  if (awake && blocker === null) blocker = powerSaveBlocker.start("prevent-display-sleep");
  if (!awake && blocker !== null) {
    powerSaveBlocker.stop(blocker);
    blocker = null;
  }
}
