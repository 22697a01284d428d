import { spawn } from "node:child_process";
import { existsSync, readFileSync } from "node:fs";
import path from "node:path";

/** Electron's own installer asks for this; older ones cannot load it. Source: engines of electron 45.4.1, in full >= 22.12. */
const INSTALLER_NEEDS_NODE = 22;

/** 100 MB in five minutes is 2.7 Mbit/s [calc: 800 Mbit / 300 s]. */
const DOWNLOAD_SECONDS = 300;

/**
 * Finds the program Electron's package keeps beside itself, without asking the package: that would start a download.
 *
 * @param root the project's folder
 * @returns absolute path, or null when it is not there
 */
export function findElectron(root: string): string | null {
  const home = path.join(root, "node_modules", "electron");
  try {
    const binary = path.join(home, "dist", readFileSync(path.join(home, "path.txt"), "utf8").trim());
    return existsSync(binary) ? binary : null;
  } catch {
    return null;
  }
}

/** @param nodeVersion as in process.versions.node */
export function canDownloadElectron(nodeVersion: string): boolean {
  return Number.parseInt(nodeVersion, 10) >= INSTALLER_NEEDS_NODE;
}

/**
 * Lets Electron's package fetch its program. What the installer prints, stack traces among it, is not shown.
 *
 * @returns the program's path, or null when it could not be had in time
 */
export function downloadElectron(root: string, seconds = DOWNLOAD_SECONDS): Promise<string | null> {
  const installer = path.join(root, "node_modules", "electron", "install.js");
  if (!existsSync(installer)) return Promise.resolve(null);
  return new Promise((resolve) => {
    const child = spawn(process.execPath, [installer], { stdio: "ignore", timeout: seconds * 1000 });
    child.on("error", () => resolve(null));
    child.on("exit", () => resolve(findElectron(root)));
  });
}
