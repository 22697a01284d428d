import react from "@vitejs/plugin-react";
import { defineConfig, type UserConfig } from "vite";

/** Settings every part shares. Maps are left out because they would carry the sources and the paths of the builder. */
const everyPart = { sourcemap: false, emptyOutDir: false, reportCompressedSize: false } as const;

/** One file for Node or Electron's main process, with its packages inside, so that nothing needs node_modules. */
function nodePart(name: string, entry: string): UserConfig {
  return {
    publicDir: false,
    ssr: { noExternal: true, target: "node" },
    build: {
      ...everyPart,
      ssr: true,
      target: "node20",
      outDir: "out/electron",
      rolldownOptions: {
        input: { [name]: entry },
        external: ["electron"],
        output: { format: "es", entryFileNames: "[name].js", codeSplitting: false },
      },
    },
  };
}

/** A sandboxed preload script has to be CommonJS. */
const preload: UserConfig = {
  publicDir: false,
  build: {
    ...everyPart,
    target: "node20",
    outDir: "out/electron",
    lib: { entry: "electron/preload.ts", formats: ["cjs"], fileName: () => "preload.cjs" },
    rolldownOptions: { external: ["electron"] },
  },
};

/** Everything as separate files under one folder, as the content policy allows no inline script, style or data. */
const renderer: UserConfig = {
  root: "renderer",
  base: "./",
  plugins: [react()],
  worker: { format: "es" },
  build: {
    ...everyPart,
    target: "chrome140",
    outDir: "../out/renderer",
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
  },
};

const parts: Readonly<Record<string, UserConfig>> = {
  main: nodePart("main", "electron/main.ts"),
  loopback: nodePart("loopback", "electron/loopback.ts"),
  headless: nodePart("headless", "electron/headless.ts"),
  preload,
  renderer,
};

/** `electron/build.mjs` builds each part by its mode. */
export default defineConfig(({ mode }) => parts[mode] ?? renderer);
