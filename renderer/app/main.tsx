import { type ReactNode, StrictMode } from "react";
import { createRoot } from "react-dom/client";
import { FIRST_SETTINGS } from "../store/settings-store.ts";
import { StoreTrouble, WAY_OUT } from "../store/store-trouble.ts";
import { askAhead } from "./ask-ahead.ts";
import { completeCopy, openedWell } from "./bringing-back.tsx";
import { openedDatabase } from "./opening-database.tsx";
import { Program } from "./program.tsx";
import { realServices } from "./services.ts";
import "../ui/base.css";
import "../ui/sheet.css";

async function start(): Promise<void> {
  const root = document.getElementById("root");
  if (root === null) throw new Error("index.html has no element with id root");
  const view = createRoot(root);
  const show = (content: ReactNode) => view.render(content);
  const database = await openedDatabase(show);
  const services = realServices(database, await openedWell(database, show));
  askAhead(services);
  const read = await services.settings.load().then(
    (settings) => ({ settings, trouble: null }),
    (error: unknown) => ({
      settings: FIRST_SETTINGS,
      trouble: `Nothing can be kept: ${inWords(error)}.`,
    }),
  );
  view.render(
    <StrictMode>
      <Program services={services} first={read} />
    </StrictMode>,
  );
  // What is not done by the next time the window is opened goes on then.
  if (read.trouble !== null) return;
  services.upkeep
    .packTakes()
    .then(() => completeCopy(database))
    .catch(() => {});
}

function inWords(error: unknown): string {
  if (error instanceof StoreTrouble) return `${error.message}; ${WAY_OUT[error.trouble]}`;
  return error instanceof Error ? error.message : String(error);
}

void start();
