import { protocol } from "electron";
import { readAsset } from "./assets.ts";
import { APP_SCHEME, isAppUrl } from "./product.ts";
import { RESPONSE_HEADERS } from "./response-headers.ts";

/**
 * Declares our own scheme. Must run before the app is ready, and only once: the last call wins.
 * Without `standard` and `secure` the window would have neither a database nor a microphone.
 */
export function declareAppScheme(): void {
  protocol.registerSchemesAsPrivileged([
    {
      scheme: APP_SCHEME,
      privileges: { standard: true, secure: true, supportFetchAPI: true, stream: true },
    },
  ]);
}

function plain(status: number, text: string): Response {
  return new Response(text, {
    status,
    headers: { ...RESPONSE_HEADERS, "Content-Type": "text/plain; charset=utf-8" },
  });
}

/**
 * Answers one request of the window.
 *
 * @param root absolute folder that holds the built window
 * @returns 200 with the file, 405 for a method other than GET and HEAD, else 404; always with the security headers
 */
export async function answerAppRequest(
  root: string,
  request: Pick<Request, "url" | "method">,
): Promise<Response> {
  if (request.method !== "GET" && request.method !== "HEAD") return plain(405, "Only GET and HEAD");
  const asset = isAppUrl(request.url) ? await readAsset(root, new URL(request.url).pathname) : null;
  if (asset === null) return plain(404, "Not found");
  return new Response(request.method === "HEAD" ? null : asset.bytes, {
    headers: { ...RESPONSE_HEADERS, "Content-Type": asset.type },
  });
}

/** Serves the built window under our scheme. */
export function serveAppScheme(root: string): void {
  protocol.handle(APP_SCHEME, (request) => answerAppRequest(root, request));
}
