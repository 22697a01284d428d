import { StrictMode } from "react";
import { createRoot } from "react-dom/client";
import { FIRST_SETTINGS } from "../store/settings-store.ts";
import { Program } from "./program.tsx";
import { realServices } from "./services.ts";
import "../ui/base.css";
import "../ui/sheet.css";

async function start(): Promise<void> {
  const root = document.getElementById("root");
  if (root === null) throw new Error("index.html has no element with id root");
  const services = realServices((share) => {
    root.textContent = `The history is brought up to this version … ${Math.floor(100 * share)} %`;
  });
  const read = await services.settings.load().then(
    (settings) => ({ settings, trouble: null }),
    (error: unknown) => ({
      settings: FIRST_SETTINGS,
      trouble: `Nothing can be kept: ${error instanceof Error ? error.message : error}.`,
    }),
  );
  root.textContent = "";
  createRoot(root).render(
    <StrictMode>
      <Program services={services} first={read} />
    </StrictMode>,
  );
  // What is not done by the next time the window is opened goes on then.
  if (read.trouble === null) services.upkeep.packTakes().catch(() => {});
}

void start();
