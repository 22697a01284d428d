// Bundles the instrument bench into out/bench/instrument.js; then: node out/bench/instrument.js [layouts] [seed]
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
      input: { instrument: path.join(root, "tests", "bench", "instrument.ts") },
      output: { format: "es", entryFileNames: "[name].js" },
    },
  },
});
