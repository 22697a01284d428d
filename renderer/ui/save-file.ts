import type { SaveResult } from "../../electron/bridge.ts";

/** Saves a text where the player says; in a plain browser it goes to the downloads. */
export async function saveTextFile(name: string, text: string, type: string): Promise<SaveResult> {
  const bridge = window.reedpath;
  if (bridge !== undefined) return bridge.saveFile(name, new TextEncoder().encode(text));
  const url = URL.createObjectURL(new Blob([text], { type }));
  const link = document.createElement("a");
  link.href = url;
  link.download = name;
  link.click();
  // The browser reads the text after the click has returned.
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
  return { kind: "saved", name };
}
