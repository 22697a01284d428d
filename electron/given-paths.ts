import path from "node:path";

/** A path longer than any system's is none. */
const LONGEST_PATH = 32_768;
/** Far more than anyone means to open. */
const MOST_PATHS = 1000;

/**
 * The files a command line names, as absolute paths.
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
    .map((argument) => path.resolve(folder, argument))
    .filter((file) => file !== path.resolve(program));
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
