import { createContext, useContext, useEffect, useRef } from "react";
import { type KeyMap, keyName, keyOf, USUAL_KEYS, type Verb, verbOf } from "./keys.ts";

/** The player's keys, for whoever listens to them or names them. */
export const Keys = createContext<KeyMap>(USUAL_KEYS);

/** What verbs do here; a verb that is absent or null is left to others. */
export type VerbActions = Readonly<Partial<Record<Verb, (() => void) | null>>>;

/** Held down, only these go on. */
const GO_ON: readonly Verb[] = ["faster", "slower"];

/** Listens to the player's keys while mounted. A key that a field or a button needs for itself is left to it. */
export function useVerbs(actions: VerbActions): void {
  const map = useContext(Keys);
  const latest = useRef(actions);
  useEffect(() => {
    latest.current = actions;
  });
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (event.defaultPrevented || event.ctrlKey || event.metaKey || event.altKey) return;
      const key = keyOf(event);
      if (isNeededBy(event.target, key) || document.querySelector("dialog[open]") !== null) return;
      const verb = verbOf(map, key);
      const action = verb === null ? null : (latest.current[verb] ?? null);
      if (verb === null || action === null) return;
      event.preventDefault();
      if (!event.repeat || GO_ON.includes(verb)) action();
    };
    window.addEventListener("keydown", onKey);
    return () => window.removeEventListener("keydown", onKey);
  }, [map]);
}

const PRESSES = [" ", "Enter"];
const ARROWS = ["ArrowUp", "ArrowDown", "ArrowLeft", "ArrowRight"];

/** Whether the control that has the focus does something with the key itself. */
function isNeededBy(target: EventTarget | null, key: string): boolean {
  if (!(target instanceof HTMLElement)) return false;
  if (target.closest("input[type=radio], input[type=checkbox], input[type=range]") !== null)
    return key === " " || ARROWS.includes(key);
  if (target.closest("input, textarea, select, [contenteditable=true]") !== null) return !/^F\d+$/.test(key);
  // On another button than the main one Space presses that button, as everywhere.
  return target.closest("button:not(.main), summary, a") !== null && PRESSES.includes(key);
}

/** The first key of a verb, as it stands on the key; nothing where the player gave it none. */
export function Key({ verb }: { readonly verb: Verb }) {
  const [first] = useContext(Keys)[verb];
  return first === undefined ? null : <kbd>{keyName(first)}</kbd>;
}
