import { StrictMode } from "react";
import { createRoot } from "react-dom/client";
import { FIRST_SETTINGS } from "../store/settings-store.ts";
import { App } from "./app.tsx";
import { realServices } from "./services.ts";
import "../ui/base.css";
import "../ui/sheet.css";

async function start(): Promise<void> {
  const root = document.getElementById("root");
  if (root === null) throw new Error("index.html has no element with id root");
  const services = realServices();
  const read = await services.settings.load().then(
    (settings) => ({ settings, trouble: null }),
    (error: unknown) => ({
      settings: FIRST_SETTINGS,
      trouble: `Nothing can be kept: ${error instanceof Error ? error.message : error}.`,
    }),
  );
  createRoot(root).render(
    <StrictMode>
      <App services={services} firstSettings={read.settings} trouble={read.trouble} />
    </StrictMode>,
  );
}

void start();
