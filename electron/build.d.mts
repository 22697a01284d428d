/** Types of build.mjs, for the tests; the launchers themselves run without a compiler. */
export type Mode = "main" | "preload" | "launch" | "headless" | "renderer";
export const PROJECT_ROOT: string;
export const MODES: readonly Mode[];
export function isStale(mode: Mode, root?: string): Promise<boolean>;
export function build(options?: {
  readonly modes?: readonly Mode[];
  readonly root?: string;
  readonly say?: (line: string) => void;
}): Promise<number>;
export function buildStale(options: {
  readonly modes: readonly Mode[];
  readonly root?: string;
  readonly say?: (line: string) => void;
}): Promise<number | null>;
