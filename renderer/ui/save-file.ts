import type { SaveResult } from "../../electron/bridge.ts";

/** Saves a text where the player says; in a plain browser it goes to the downloads. */
export const saveTextFile = (name: string, text: string, type: string): Promise<SaveResult> =>
  saveFile(name, new TextEncoder().encode(text), type);

/** Saves bytes where the player says; in a plain browser they go to the downloads. */
export async function saveFile(name: string, bytes: Uint8Array, type: string): Promise<SaveResult> {
  const bridge = window.reedpath;
  if (bridge !== undefined) return bridge.saveFile(name, bytes);
  const url = URL.createObjectURL(new Blob([new Uint8Array(bytes)], { type }));
  const link = document.createElement("a");
  link.href = url;
  link.download = name;
  link.click();
  // The browser reads the file after the click has returned.
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
  return { kind: "saved", name };
}
