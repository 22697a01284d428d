/** What a command could do: nothing that was asked, or all but some files. */
export type FailedStatus = 1 | 2;

/** Bad input of a headless command: the message is the one line the user reads. */
export class CommandError extends Error {
  constructor(
    message: string,
    readonly status: FailedStatus = 2,
  ) {
    super(message);
  }
}

/** An error as the one line the user reads; what is not about the input is a bug, and says so. */
export function inOneLine(error: unknown): string {
  if (error instanceof CommandError) return error.message;
  const message = error instanceof Error ? error.message : String(error);
  return `something this program did not expect: ${message.split("\n")[0]}`;
}
