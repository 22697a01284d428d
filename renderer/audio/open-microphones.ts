/** Which microphones are open, for the sign that says so on every screen. */
export class OpenMicrophones {
  private readonly open = new Map<symbol, string>();
  private names: readonly string[] = [];
  private readonly listeners = new Set<() => void>();

  readonly subscribe = (listener: () => void): (() => void) => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };

  /** Names of the open ones, in the order they were opened; the same array until there are others. */
  readonly getState = (): readonly string[] => this.names;

  /** @returns how to say that it is closed again; more than once changes nothing */
  readonly opened = (deviceName: string): (() => void) => {
    const mine = Symbol(deviceName);
    this.open.set(mine, deviceName);
    this.tell();
    return () => {
      if (this.open.delete(mine)) this.tell();
    };
  };

  private tell(): void {
    this.names = [...this.open.values()];
    for (const listener of this.listeners) listener();
  }
}
