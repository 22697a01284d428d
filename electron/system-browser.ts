import { spawn } from "node:child_process";

const OPENERS: Readonly<Partial<Record<NodeJS.Platform, readonly [string, ...string[]]>>> = {
  darwin: ["open"],
  win32: ["cmd", "/c", "start", ""],
};

/** Opens an address in the player's browser. Without one nothing happens: the address stands in the terminal as well. */
export function openSystemBrowser(url: string, platform: NodeJS.Platform = process.platform): void {
  const [program, ...leading] = OPENERS[platform] ?? ["xdg-open"];
  const child = spawn(program, [...leading, url], { stdio: "ignore", detached: true });
  child.on("error", () => {});
  child.unref();
}
