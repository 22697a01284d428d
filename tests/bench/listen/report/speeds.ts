import type { Timed } from "./measured.ts";
import { fixed, table } from "./numbers.ts";

/** The clock and the processor's time agree on an idle machine; so much more means that it was busy. */
const BUSY = 1.25;

/** Speed of every engine on the take of 60 s, and how long marks take after it. Depends on the machine. */
export function speedTable({ speeds, marks }: Timed): string {
  const rows = speeds.map(({ name, timesRealTime, timesProcessor, startSeconds }) => [
    name,
    fixed(timesRealTime, 1),
    fixed(timesProcessor, 1),
    fixed(startSeconds, 2),
  ]);
  const head = [
    "one core",
    "x real time by the clock",
    "by the processor's time",
    "start and 2 s of sound, s",
  ];
  const busy = speeds.some(({ timesRealTime, timesProcessor }) => timesProcessor > BUSY * timesRealTime);
  return [
    table(head, rows),
    ...(busy ? ["\nThe machine was busy with other work: the clock is not to be trusted."] : []),
    ...(marks === null
      ? []
      : [
          `\nAfter a streamed take of 60 s: ${fixed(marks.finishMs, 0)} ms to end listening, ${fixed(marks.markMs, 0)} ms to ` +
            `mark; the first time ${fixed(marks.firstMs, 0)} ms together.`,
        ]),
  ].join("\n");
}
