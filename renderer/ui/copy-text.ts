/** Puts a text on the clipboard. @throws Error where the system does not let it */
export async function copyText(text: string): Promise<void> {
  await navigator.clipboard.writeText(text);
}
