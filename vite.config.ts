import path from "node:path";
import react from "@vitejs/plugin-react";
import { defineConfig, type Plugin, runnerImport, type UserConfig } from "vite";
import { bundledLicences } from "./electron/packaging/bundled-licences.ts";
import { PAGE_POLICY } from "./electron/response-headers.ts";

type ComeAlong = typeof import("./renderer/tunes/come-along-list.ts");

/** Absolute, because the launchers may be started from any folder. */
const at = (...parts: string[]) => path.join(import.meta.dirname, ...parts);

/** Settings every part shares. Maps are left out because they would carry the sources and the paths of the builder. */
const everyPart = { sourcemap: false, emptyOutDir: false, reportCompressedSize: false } as const;

/** The bundler would otherwise write beside each part where on the builder's disk it came from. */
const experimental = { attachDebugInfo: "none" } as const;

/** One file for Node or Electron's main process, with its packages inside, so that nothing needs node_modules. */
function nodePart(name: string): UserConfig {
  return {
    root: at(),
    publicDir: false,
    // What other people's packages ask for in return: their notices travel with every copy.
    plugins: [bundledLicences(`${name}-licences.txt`).page],
    ssr: { noExternal: true, target: "node" },
    build: {
      ...everyPart,
      ssr: true,
      target: "node20",
      outDir: at("out", "electron"),
      rolldownOptions: {
        input: { [name]: at("electron", `${name}.ts`) },
        external: ["electron"],
        experimental,
        output: { format: "es", entryFileNames: "[name].js", codeSplitting: false },
      },
    },
  };
}

/** A sandboxed preload script has to be CommonJS. */
const preload: UserConfig = {
  root: at(),
  publicDir: false,
  build: {
    ...everyPart,
    target: "node20",
    outDir: at("out", "electron"),
    lib: { entry: at("electron", "preload.ts"), formats: ["cjs"], fileName: () => "preload.cjs" },
    rolldownOptions: { external: ["electron"], experimental },
  },
};

/** Puts the content policy into the page, before anything it speaks of. */
const pagePolicy: Plugin = {
  name: "page-policy",
  transformIndexHtml: () => [
    {
      tag: "meta",
      attrs: { "http-equiv": "Content-Security-Policy", content: PAGE_POLICY },
      injectTo: "head-prepend",
    },
  ],
};

const COME_ALONG_LIST = "renderer/tunes/come-along-list.ts";

/** The tunes that come along are read when the window is built, and not each time it is opened: this file becomes its own result. */
const comeAlongList: Plugin = {
  name: "come-along-list",
  enforce: "pre",
  async load(id) {
    if (!id.replaceAll("\\", "/").endsWith(`/${COME_ALONG_LIST}`)) return null;
    const ran = await runnerImport<ComeAlong>(at(COME_ALONG_LIST), { configFile: false, root: at() });
    return `export const COME_ALONG = ${JSON.stringify(ran.module.COME_ALONG)};`;
  },
};

const windowLicences = bundledLicences("third-party-licences.txt");

/** Everything as separate files under one folder, as the content policy allows no inline script, style or data. */
const renderer: UserConfig = {
  root: at("renderer"),
  base: "./",
  plugins: [react(), pagePolicy, comeAlongList, windowLicences.page],
  worker: { format: "es", plugins: () => [windowLicences.workers()] },
  build: {
    ...everyPart,
    outDir: at("out", "renderer"),
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
  },
};

const parts: Readonly<Record<string, UserConfig>> = {
  main: nodePart("main"),
  launch: nodePart("launch"),
  headless: nodePart("headless"),
  preload,
  renderer,
};

/** `electron/build.mjs` builds each part by its mode. */
export default defineConfig(({ mode }) => parts[mode] ?? renderer);
