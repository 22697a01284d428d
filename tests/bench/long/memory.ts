export interface Memory {
  readonly objects: number;
  readonly buffers: number;
}

/** What is held on to, in bytes, after collecting garbage. @throws Error without --expose-gc */
export function memory(): Memory {
  if (globalThis.gc === undefined) throw new Error("run with node --expose-gc");
  globalThis.gc();
  const { heapUsed, arrayBuffers } = process.memoryUsage();
  return { objects: heapUsed, buffers: arrayBuffers };
}

export function mega(bytes: number): string {
  return `${(bytes / 1e6).toFixed(2)} MB`.padStart(9);
}
