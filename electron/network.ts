import { app, type Session } from "electron";
import { isAppUrl } from "./product.ts";

/** Whether the window may ask for an address: its own files, what it made itself in memory, and the developer tools. */
export function isLocalRequest(address: string): boolean {
  if (!URL.canParse(address)) return false;
  const url = new URL(address);
  if (url.protocol === "blob:") return isAppUrl(url.pathname);
  return url.protocol === "data:" || url.protocol === "devtools:" || isAppUrl(address);
}

/** Takes names and proxies away from everything in the browser engine, also from what no request filter sees. */
export function closeNetwork(): void {
  app.commandLine.appendSwitch("host-resolver-rules", "MAP * ~NOTFOUND");
  app.commandLine.appendSwitch("no-proxy-server");
  app.commandLine.appendSwitch("disable-background-networking");
}

/** Cancels every request that would leave the machine. */
export function guardRequests(session: Session): void {
  session.webRequest.onBeforeRequest((details, callback) => {
    callback({ cancel: !isLocalRequest(details.url) });
  });
}
