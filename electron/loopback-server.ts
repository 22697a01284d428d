import { createServer, type IncomingMessage, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import path from "node:path";
import type { Duplex } from "node:stream";
import { readAsset } from "./assets.ts";
import { PRODUCT_NAME, PRODUCT_VERSION } from "./product.ts";
import { RESPONSE_HEADERS } from "./response-headers.ts";

const LOOPBACK = "127.0.0.1";

/** Answers with product name and version, so that a second start can tell its own kind from a foreign program. */
export const INSTANCE_PATH = "/reedpath-instance";

/** A running server. */
export interface LoopbackServer {
  /** The one address the window is served at, ending in "/". */
  readonly url: string;
  /** Stops listening and drops open connections. */
  close(): Promise<void>;
}

function send(response: ServerResponse, status: number, type: string, body: Uint8Array | string): void {
  const bytes = typeof body === "string" ? Buffer.from(body) : body;
  response.writeHead(status, {
    ...RESPONSE_HEADERS,
    "Content-Type": type,
    "Content-Length": bytes.byteLength,
  });
  response.end(response.req.method === "HEAD" ? undefined : bytes);
}

function sendText(response: ServerResponse, status: number, text: string): void {
  send(response, status, "text/plain; charset=utf-8", `${text}\n`);
}

/** What cannot be read as HTTP is answered with the same headers, and no more is read of it. */
function refuseMalformed(error: Error, socket: Duplex): void {
  if (!socket.writable || ("code" in error && error.code === "ECONNRESET")) return void socket.destroy();
  const headers = { ...RESPONSE_HEADERS, "Content-Type": "text/plain; charset=utf-8", Connection: "close" };
  const lines = Object.entries(headers).map(([name, value]) => `${name}: ${value}`);
  socket.end(["HTTP/1.1 400 Bad Request", ...lines, "Content-Length: 12", "", "Bad request\n"].join("\r\n"));
}

/**
 * Whether a page of another site wants something other than to lead the player here. Such a request may carry no Origin;
 * browsers say it in these two headers (Fetch Metadata Request Headers, W3C).
 */
function isAskedByOtherSite({ headers }: IncomingMessage): boolean {
  const { "sec-fetch-site": site, "sec-fetch-dest": wanted } = headers;
  return (site === "cross-site" || site === "same-site") && wanted !== "document";
}

/** Sends the visitor to the one origin that holds the database. */
function redirect(response: ServerResponse, location: string): void {
  response.setHeader("Location", location);
  sendText(response, 307, `Reedpath is at ${location}`);
}

async function answer(root: string, request: IncomingMessage, response: ServerResponse): Promise<void> {
  const port = request.socket.localPort;
  const ownHost = `${LOOPBACK}:${port}`;
  const { host, origin } = request.headers;
  // RFC 9112, 3.2: a request that names two hosts is malformed; Node would go by the first.
  if ((request.headersDistinct.host?.length ?? 0) > 1) return sendText(response, 400, "Bad request");
  // A web page whose host name was re-pointed at this machine still sends its own name here.
  if (host !== ownHost && host !== `localhost:${port}`) return sendText(response, 403, "Wrong host");
  if (origin !== undefined && origin !== `http://${ownHost}`) return sendText(response, 403, "Wrong origin");
  if (isAskedByOtherSite(request)) return sendText(response, 403, "Wrong site");
  if (request.method !== "GET" && request.method !== "HEAD") {
    response.setHeader("Allow", "GET, HEAD");
    return sendText(response, 405, "Only GET and HEAD");
  }
  const target = request.url ?? "";
  if (!target.startsWith("/")) return sendText(response, 400, "Bad request");
  // localhost would be a second origin, with a second, empty database. "//" would leave this machine.
  if (host !== ownHost) return redirect(response, `http://${ownHost}${target.replace(/^\/+/, "/")}`);
  const requestPath = target.split(/[?#]/, 1)[0] ?? "";
  if (requestPath === INSTANCE_PATH) {
    const instance = JSON.stringify({ product: PRODUCT_NAME, version: PRODUCT_VERSION });
    return send(response, 200, "application/json; charset=utf-8", instance);
  }
  const asset = await readAsset(root, requestPath);
  if (asset === null) return sendText(response, 404, "Not found");
  send(response, 200, asset.type, asset.bytes);
}

/**
 * Serves the built window to browsers on this machine only.
 *
 * @param options.root folder that holds the built window
 * @param options.port port on 127.0.0.1; 0 takes any free one, which only tests may do, as the origin is the database
 * @returns once the server listens
 * @throws the system's error (EADDRINUSE, EACCES) when it cannot listen
 */
export function serve(options: { readonly root: string; readonly port: number }): Promise<LoopbackServer> {
  const root = path.resolve(options.root);
  const server = createServer((request, response) => {
    answer(root, request, response).catch(() => response.destroy());
  });
  server.on("clientError", refuseMalformed);
  // Nothing speaks anything else here; without a listener such a connection would be served as a plain request.
  server.on("upgrade", (_request, socket) => socket.destroy());
  const close = () =>
    new Promise<void>((resolve) => {
      server.close(() => resolve());
      server.closeAllConnections();
    });
  return new Promise((resolve, reject) => {
    server.once("error", reject);
    server.listen(options.port, LOOPBACK, () => {
      const { port } = server.address() as AddressInfo;
      resolve({ url: `http://${LOOPBACK}:${port}/`, close });
    });
  });
}
