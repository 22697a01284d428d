import type {
  LeftTake,
  RunningHead,
  RunningTake,
  RunningTakes,
  TakenOver,
} from "../../renderer/store/running-take.ts";

interface Held {
  head: RunningHead;
  readonly pieces: Float32Array[];
  isOurs: boolean;
}

/** Running takes for as long as the window is open: in tests. */
export class MemoryRunningTakes implements RunningTakes {
  readonly takes = new Map<string, Held>();
  private count = 0;

  begin(): RunningTake {
    const id = `running ${++this.count}`;
    let isOver = false;
    const { takes } = this;
    return {
      id,
      async add(head, samples) {
        if (isOver) return;
        const held = takes.get(id) ?? { head, pieces: [], isOurs: true };
        held.head = head;
        held.pieces.push(samples);
        takes.set(id, held);
      },
      async end() {
        isOver = true;
      },
      async discard() {
        isOver = true;
        takes.delete(id);
      },
      leave() {
        isOver = true;
        const held = takes.get(id);
        if (held !== undefined) held.isOurs = false;
      },
    };
  }

  async left(): Promise<readonly LeftTake[]> {
    return [...this.takes].flatMap(([id, { head, pieces, isOurs }]) => {
      const samples = pieces.reduce((sum, { length }) => sum + length, 0);
      const playedSeconds = samples / head.sampleRateHz - (head.beatZeroSeconds ?? 0);
      return isOurs ? [] : [{ id, atEpochMs: head.atEpochMs, title: head.exercise.title, playedSeconds }];
    });
  }

  async takeOver(id: string): Promise<TakenOver | null> {
    const held = this.takes.get(id);
    if (held === undefined || held.isOurs) return null;
    const { head, pieces } = held;
    const samples = Float32Array.from(pieces.flatMap((piece) => [...piece]));
    return {
      id,
      head,
      take: { samples, sampleRateHz: head.sampleRateHz },
      discard: async () => void this.takes.delete(id),
      leave: () => {},
    };
  }
}
