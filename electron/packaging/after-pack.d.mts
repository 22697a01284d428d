/** Types of after-pack.mjs. */

export function withoutTransportException(plist: string): string;
