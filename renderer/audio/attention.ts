import type { NotLookedAt } from "./surroundings.ts";

/** What becomes of an open microphone while the window is not looked at. */
export const WHEN_AWAY = ["stays open", "closes when hidden", "closes when behind"] as const;
export type WhenAway = (typeof WHEN_AWAY)[number];

let rule: WhenAway = "closes when hidden";

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
