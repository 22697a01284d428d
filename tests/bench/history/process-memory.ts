import { readdirSync, readFileSync } from "node:fs";

const EVERY_MS = 250;

/** Watches how much memory the renderers of a browser hold: the pages, and the workers in them. */
export class RendererMemory {
  private peakKb = 0;
  private timer: NodeJS.Timeout | null = null;

  /** @param browserPid of the browser's first process */
  constructor(private readonly browserPid: number) {}

  start(): void {
    this.peakKb = 0;
    this.look();
    this.timer = setInterval(() => this.look(), EVERY_MS);
  }

  /** @returns the most held at once since the start, in megabytes */
  stop(): number {
    if (this.timer !== null) clearInterval(this.timer);
    this.look();
    return Math.round((this.peakKb * 1024) / 1e6);
  }

  private look(): void {
    this.peakKb = Math.max(this.peakKb, rendererKb(this.browserPid));
  }
}

/** What all renderers below a process hold of their own, the program's code left out, in kibibytes. */
function rendererKb(browserPid: number): number {
  const all = readdirSync("/proc")
    .filter((name) => /^\d+$/.test(name))
    .flatMap((pid) => processOf(pid) ?? []);
  const parents = new Map(all.map(({ pid, parent }) => [pid, parent]));
  const isBelow = (pid: number): boolean => {
    const parent = parents.get(pid);
    return parent !== undefined && (parent === browserPid || isBelow(parent));
  };
  return all
    .filter(({ pid, isRenderer }) => isRenderer && isBelow(pid))
    .reduce((sum, { residentKb }) => sum + residentKb, 0);
}

/** Null for one that has just ended. */
function processOf(pid: string) {
  try {
    const status = readFileSync(`/proc/${pid}/status`, "utf8");
    const command = readFileSync(`/proc/${pid}/cmdline`, "utf8");
    const field = (name: string) => Number(new RegExp(`^${name}:\\s+(\\d+)`, "m").exec(status)?.[1] ?? 0);
    const isRenderer = command.includes("--type=renderer");
    return {
      pid: Number(pid),
      parent: field("PPid"),
      residentKb: field("RssAnon") + field("RssShmem"),
      isRenderer,
    };
  } catch {
    return null;
  }
}
