export interface Memory {
  readonly objects: number;
  readonly buffers: number;
}

/** Buffers are given back beside the program, a moment after their objects were collected. */
const SWEEP_MS = 500;

/** What is held on to, in bytes, after collecting garbage. @throws Error without --expose-gc */
export function memory(): Memory {
  if (globalThis.gc === undefined) throw new Error("run with node --expose-gc");
  globalThis.gc();
  Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, SWEEP_MS);
  globalThis.gc();
  const { heapUsed, arrayBuffers } = process.memoryUsage();
  return { objects: heapUsed, buffers: arrayBuffers };
}

export function mega(bytes: number): string {
  return `${(bytes / 1e6).toFixed(2)} MB`.padStart(9);
}
