import { get } from "node:http";
import { INSTANCE_PATH, type LoopbackServer, serve } from "./loopback-server.ts";
import { LOOPBACK_PORT, PRODUCT_NAME } from "./product.ts";

/** Our own answer is far shorter; a stranger's may have no end. */
const LONGEST_ANSWER = 4096;

/** What serving to a browser needs from outside. */
export interface BrowserMode {
  /** Folder of the built window. */
  readonly windowRoot: string;
  /** Half a sentence saying why the window is not opened, such as "There is no display". */
  readonly why: string;
  /** Only tests give another port: the origin is the database. */
  readonly port?: number;
  readonly platform: NodeJS.Platform;
  readonly openBrowser: (url: string) => void;
  readonly say: (line: string) => void;
  readonly complain: (line: string) => void;
  /** Resolves when the player wants to stop. */
  readonly untilStopped: () => Promise<void>;
}

/** Reads the version out of what an instance says of itself; null when it is no instance of ours. */
function versionIn(text: string): string | null {
  let answer: unknown;
  try {
    answer = JSON.parse(text);
  } catch {
    return null;
  }
  if (typeof answer !== "object" || answer === null) return null;
  if (!("product" in answer) || answer.product !== PRODUCT_NAME) return null;
  return "version" in answer && typeof answer.version === "string" ? answer.version : null;
}

/**
 * Asks whatever listens on the port whether it is this program.
 *
 * @returns its version, or null when it is something else or has not answered within two seconds
 */
function runningVersion(url: string): Promise<string | null> {
  return new Promise((resolve) => {
    const asked = get(new URL(INSTANCE_PATH, url), { agent: false }, (answer) => {
      let text = "";
      answer.setEncoding("utf8").on("data", (chunk: string) => {
        text += chunk;
        if (text.length > LONGEST_ANSWER) asked.destroy();
      });
      answer.on("end", () => resolve(versionIn(text)));
    });
    // Counts from the question, not from the last byte: a program that drips would hold the player up for ever.
    const timer = setTimeout(() => asked.destroy(), 2000);
    asked.on("error", () => {});
    asked.on("close", () => {
      clearTimeout(timer);
      resolve(null);
    });
  });
}

/** How to find the program that holds a port, and how to stop it, in the commands each system has. */
function howToFree(port: number, platform: NodeJS.Platform): string {
  if (platform === "win32")
    return `find it with "netstat -ano | findstr :${port}", stop it with "taskkill /PID number"`;
  if (platform === "darwin")
    return `find it with "lsof -nP -iTCP:${port} -sTCP:LISTEN", stop it with "kill number"`;
  return `find it with "ss -ltnp sport = :${port}", stop it with "kill number"`;
}

function explainRefusal(error: unknown, port: number, platform: NodeJS.Platform): string {
  const code = error instanceof Error && "code" in error ? String(error.code) : String(error);
  const why = `${PRODUCT_NAME} uses no other port, because your practice history belongs to this address.`;
  if (code !== "EADDRINUSE") return `Port ${port} of this machine cannot be used (${code}). ${why}`;
  return `Port ${port} is taken by another program: ${howToFree(port, platform)}, then start again. ${why}`;
}

async function serveUntilStopped(server: LoopbackServer, mode: BrowserMode): Promise<void> {
  // Listens for Ctrl-C before it offers it.
  const stopped = mode.untilStopped();
  mode.say(
    `${mode.why}, so ${PRODUCT_NAME} is served to your browser at ${server.url} ` +
      "(Ctrl-C stops it; that browser keeps the history).",
  );
  mode.openBrowser(server.url);
  await stopped;
  await server.close();
}

/**
 * Serves the window on its fixed loopback address until stopped, or shows the one that is served already.
 *
 * @returns exit code: 0 when served or already running, 2 when the port cannot be had
 */
export async function runInBrowser(mode: BrowserMode): Promise<number> {
  const port = mode.port ?? LOOPBACK_PORT;
  let server: LoopbackServer;
  try {
    server = await serve({ root: mode.windowRoot, port });
  } catch (error) {
    const url = `http://127.0.0.1:${port}/`;
    const version = await runningVersion(url);
    if (version === null) {
      mode.complain(explainRefusal(error, port, mode.platform));
      return 2;
    }
    mode.say(`${PRODUCT_NAME} ${version} is already running at ${url}.`);
    mode.openBrowser(url);
    return 0;
  }
  await serveUntilStopped(server, mode);
  return 0;
}
