import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { Agenda } from "../../renderer/audio/agenda.ts";

const calls = (times: readonly number[], called: string[]) =>
  times.map((atSeconds, i) => ({ atSeconds, call: () => void called.push(`${atSeconds}/${i}`) }));

describe("the agenda of a reference", () => {
  test("calls what is due, each once and in order of time, those of one time in the order given", () => {
    const called: string[] = [];
    const agenda = new Agenda(calls([2, 0, 1, 1], called));
    agenda.callUpTo(1);
    expect(called).toEqual(["0/1", "1/2", "1/3"]);
    agenda.callUpTo(1.9);
    expect(called).toHaveLength(3);
    expect(agenda.isDone).toBe(false);
    agenda.callUpTo(2);
    expect(called.at(-1)).toBe("2/0");
    expect(agenda.isDone).toBe(true);
  });

  test("a call that clears it is the last one", () => {
    let count = 0;
    const agenda = new Agenda(
      [0, 0, 0].map(() => ({
        atSeconds: 0,
        call: () => {
          count++;
          if (count === 2) agenda.clear();
        },
      })),
    );
    agenda.callUpTo(5);
    expect(count).toBe(2);
    expect(agenda.isDone).toBe(true);
  });

  test("however often the clock is read, nothing is called before its time or twice", () => {
    const time = fc.integer({ min: -8, max: 30 });
    fc.assert(
      fc.property(fc.array(time), fc.array(time), (due, looks) => {
        const called: [at: number, now: number][] = [];
        let now = 0;
        const agenda = new Agenda(
          due.map((atSeconds) => ({ atSeconds, call: () => called.push([atSeconds, now]) })),
        );
        const ascending = [...looks].sort((a, b) => a - b);
        for (now of [...ascending, 31]) agenda.callUpTo(now);
        for (const [at, when] of called) expect(at).toBeLessThanOrEqual(when);
        expect(called.map(([at]) => at)).toEqual([...due].sort((a, b) => a - b));
      }),
    );
  });
});
