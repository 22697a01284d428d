import { app, type WebContents } from "electron";
import { APP_URL } from "./product.ts";

/** Reloading the one page is the only navigation; screens change inside it. */
function isOwnPage(address: string): boolean {
  return address.split("#", 1)[0] === APP_URL;
}

function guardContents(contents: WebContents): void {
  const stay = (event: { preventDefault(): void; readonly url: string }) => {
    if (!isOwnPage(event.url)) event.preventDefault();
  };
  contents.on("will-navigate", stay);
  contents.on("will-frame-navigate", stay);
  contents.on("will-redirect", (event) => event.preventDefault());
  contents.on("will-attach-webview", (event) => event.preventDefault());
  contents.setWindowOpenHandler(() => ({ action: "deny" }));
  // Peer connections are outside the content policy; without a proxy this leaves them no route.
  contents.setWebRTCIPHandlingPolicy("disable_non_proxied_udp");
}

/** Keeps every page of the program where it is: no links out, no redirects, no further windows, no embedded pages. */
export function guardNavigation(): void {
  app.on("web-contents-created", (_event, contents) => guardContents(contents));
}
