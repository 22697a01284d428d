import { execFileSync } from "node:child_process";
import { readdirSync, readFileSync } from "node:fs";

const EVERY_MS = 250;

/** What a browser used meanwhile. */
export interface Used {
  /** The most its renderers held at once of their own, the program's code left out: the pages, and the workers in them. */
  readonly megabytes: number;
  /** Of all its processes, the database's too: unlike the clock it does not count who else uses the machine. */
  readonly processorSeconds: number;
}

/** Watches what a browser uses of memory and processors. */
export class BrowserWatch {
  private peakKb = 0;
  private ticksBefore = 0;
  private timer: NodeJS.Timeout | null = null;

  /** @param browserPid of the browser's first process */
  constructor(private readonly browserPid: number) {}

  start(): void {
    this.peakKb = 0;
    this.ticksBefore = this.look();
    this.timer = setInterval(() => this.look(), EVERY_MS);
  }

  stop(): Used {
    if (this.timer !== null) clearInterval(this.timer);
    const ticks = this.look() - this.ticksBefore;
    return {
      megabytes: Math.round((this.peakKb * 1024) / 1e6),
      processorSeconds: Math.round((10 * ticks) / TICKS_A_SECOND) / 10,
    };
  }

  /** @returns what all processes used of processors so far, in clock ticks */
  private look(): number {
    const all = processesBelow(this.browserPid);
    const renderers = all.filter(({ isRenderer }) => isRenderer);
    const heldKb = renderers.reduce((sum, { ownKb }) => sum + ownKb, 0);
    this.peakKb = Math.max(this.peakKb, heldKb);
    return all.reduce((sum, { ticks }) => sum + ticks, 0);
  }
}

const TICKS_A_SECOND = Number(execFileSync("getconf", ["CLK_TCK"], { encoding: "utf8" }));

/** A process and those it started. */
function processesBelow(first: number) {
  const all = readdirSync("/proc")
    .filter((name) => /^\d+$/.test(name))
    .flatMap((pid) => processOf(pid) ?? []);
  const parents = new Map(all.map(({ pid, parent }) => [pid, parent]));
  const isBelow = (pid: number): boolean => {
    const parent = parents.get(pid);
    return pid === first || (parent !== undefined && isBelow(parent));
  };
  return all.filter(({ pid }) => isBelow(pid));
}

/** Null for one that has just ended. */
function processOf(pid: string) {
  try {
    const status = readFileSync(`/proc/${pid}/status`, "utf8");
    const command = readFileSync(`/proc/${pid}/cmdline`, "utf8");
    const field = (name: string) => Number(new RegExp(`^${name}:\\s+(\\d+)`, "m").exec(status)?.[1] ?? 0);
    // Source: proc_pid_stat(5): utime and stime are the 14th and 15th field, the 2nd may hold spaces.
    const stat = readFileSync(`/proc/${pid}/stat`, "utf8");
    const [user = 0, system = 0] = stat
      .slice(stat.lastIndexOf(")") + 2)
      .split(" ")
      .slice(11, 13)
      .map(Number);
    return {
      pid: Number(pid),
      parent: field("PPid"),
      ownKb: field("RssAnon") + field("RssShmem"),
      ticks: user + system,
      isRenderer: command.includes("--type=renderer"),
    };
  } catch {
    return null;
  }
}
