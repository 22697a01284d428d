import { cp, mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import path from "node:path";
import { build } from "vite";
import { type LoopbackServer, serve } from "../../electron/loopback-server.ts";

const ROOT = path.join(import.meta.dirname, "..", "..");

/** The built window, and beside it under the same origin, so on the same database, a page with nothing but the store. */
export interface StoreRoom {
  /** Of the window. */
  readonly url: string;
  readonly storeUrl: string;
  close(): Promise<void>;
}

export async function buildStoreRoom(): Promise<StoreRoom> {
  const folder = await mkdtemp(path.join(tmpdir(), "reedpath-store-"));
  await cp(path.join(ROOT, "out", "renderer"), folder, { recursive: true });
  await build({
    configFile: path.join(ROOT, "vite.config.ts"),
    mode: "renderer",
    root: path.join(ROOT, "tests", "e2e", "store-page"),
    logLevel: "silent",
    build: { outDir: path.join(folder, "store") },
  });
  const server: LoopbackServer = await serve({ root: folder, port: 0 });
  return {
    url: server.url,
    storeUrl: new URL("store/index.html", server.url).href,
    async close() {
      await server.close();
      await rm(folder, { recursive: true, force: true });
    },
  };
}
