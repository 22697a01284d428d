import type { KeyboardEvent } from "react";

/** Arrows walk a list by the button that opens each row; for the element that holds the rows. */
export function walkRows(event: KeyboardEvent<HTMLElement>): void {
  const step = event.key === "ArrowDown" ? 1 : event.key === "ArrowUp" ? -1 : 0;
  if (step === 0) return;
  const buttons = [...event.currentTarget.querySelectorAll<HTMLElement>("button.open")];
  const rowOf = (element: HTMLElement) => element.closest("tr, li");
  const row = rowOf(event.target as HTMLElement);
  const next = buttons[buttons.findIndex((button) => rowOf(button) === row) + step];
  if (next === undefined) return;
  event.preventDefault();
  next.focus();
}
