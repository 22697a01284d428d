import type { NotLookedAt } from "./surroundings.ts";
import { USUAL_WHEN_AWAY, type WhenAway } from "./when-away.ts";

let rule: WhenAway = USUAL_WHEN_AWAY;

/** Takes what the player has set; it holds from now on. */
export function setWhenAway(next: WhenAway): void {
  rule = next;
}

/** How the window is not looked at, where the microphone is to be closed then; null otherwise. */
export function notLookedAt(): NotLookedAt | null {
  if (rule === "stays open") return null;
  if (document.visibilityState === "hidden") return "hidden";
  return rule === "closes when behind" && !document.hasFocus() ? "behind another window" : null;
}

/** @returns how to be told no more */
export function onNotLookedAt(listener: (how: NotLookedAt) => void): () => void {
  const look = () => {
    const how = notLookedAt();
    if (how !== null) listener(how);
  };
  document.addEventListener("visibilitychange", look);
  window.addEventListener("blur", look);
  return () => {
    document.removeEventListener("visibilitychange", look);
    window.removeEventListener("blur", look);
  };
}
