// Bundles a bench into out/bench/NAME.js, a command of its own: node tests/bench/build.mjs instrument
import path from "node:path";
import { build } from "vite";

const [name] = process.argv.slice(2);
if (name === undefined) throw new Error("usage: node tests/bench/build.mjs NAME, of a file in tests/bench");
const root = path.join(import.meta.dirname, "..", "..");
await build({
  configFile: false,
  root,
  logLevel: "warn",
  publicDir: false,
  ssr: { noExternal: true, external: ["playwright-core", "axe-core", "vite"], target: "node" },
  build: {
    ssr: true,
    target: "node20",
    outDir: path.join(root, "out", "bench"),
    emptyOutDir: false,
    rolldownOptions: {
      input: { [name]: path.join(root, "tests", "bench", `${name}.ts`) },
      output: { format: "es", entryFileNames: "[name].js", codeSplitting: false },
    },
  },
});
