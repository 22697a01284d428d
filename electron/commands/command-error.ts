/** Bad input of a headless command: the message is the one line the user reads. */
export class CommandError extends Error {}
