// Bundles the listening engine into out/bench/listen-engine.js, a command that any scorer of pitch trackers can call.
import path from "node:path";
import { build } from "vite";

const root = path.join(import.meta.dirname, "..", "..");
await build({
  configFile: false,
  root,
  logLevel: "warn",
  publicDir: false,
  ssr: { noExternal: true, target: "node" },
  build: {
    ssr: true,
    target: "node20",
    outDir: path.join(root, "out", "bench"),
    emptyOutDir: false,
    rolldownOptions: {
      input: { "listen-engine": path.join(root, "tests", "bench", "listen-engine.ts") },
      output: { format: "es", entryFileNames: "[name].js" },
    },
  },
});
