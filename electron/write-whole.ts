import { PartFile } from "./part-file.ts";

/**
 * Writes a file whole or not at all.
 *
 * @throws the system's error; the old file is then untouched and nothing is left beside it
 */
export async function writeWhole(file: string, bytes: Uint8Array): Promise<void> {
  const part = await PartFile.begin(file);
  try {
    await part.add(bytes);
  } catch (error) {
    await part.abandon();
    throw error;
  }
  await part.finish();
}
