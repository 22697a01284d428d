import path from "node:path";
import { fileURLToPath } from "node:url";

/** A path longer than any system's is none. */
const LONGEST_PATH = 32_768;
/** Far more than anyone means to open. */
const MOST_PATHS = 1000;

/**
 * The files a command line names, as absolute paths. Desktops of Linux give them as addresses (%U of the menu entry).
 *
 * @param argv    arguments after the program's own name
 * @param folder  where they are meant from
 * @param program path of the program itself, which is an argument where it is run from its sources
 */
export function pathsOfArguments(
  argv: readonly string[],
  folder: string,
  program: string,
): readonly string[] {
  return argv
    .filter((argument) => argument !== "" && !argument.startsWith("-"))
    .map((argument) => path.resolve(folder, pathOfAddress(argument) ?? argument))
    .filter((file) => file !== path.resolve(program));
}

/** The path in the address of a file on this machine; null for anything else. */
function pathOfAddress(argument: string): string | null {
  if (!/^file:/i.test(argument)) return null;
  try {
    return fileURLToPath(argument);
  } catch {
    return null;
  }
}

/** What a second start hands over; anything but absolute paths is left out, as any program could send it. */
export function pathsHandedOver(data: unknown): readonly string[] {
  const files = typeof data === "object" && data !== null && "files" in data ? data.files : null;
  if (!Array.isArray(files)) return [];
  return files
    .slice(0, MOST_PATHS)
    .filter(
      (file): file is string =>
        typeof file === "string" && file.length <= LONGEST_PATH && path.isAbsolute(file),
    );
}
