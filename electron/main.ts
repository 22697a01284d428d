import path from "node:path";
import { app, dialog } from "electron";
import { PRODUCT_NAME } from "./product.ts";
import { start } from "./shell.ts";

const here = import.meta.dirname;

start({
  windowRoot: path.join(here, "..", "renderer"),
  preload: path.join(here, "preload.cjs"),
}).catch((error: unknown) => {
  dialog.showErrorBox(
    `${PRODUCT_NAME} could not start`,
    error instanceof Error ? error.message : String(error),
  );
  app.exit(1);
});
