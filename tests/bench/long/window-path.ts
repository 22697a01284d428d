import { knownReeds } from "../../../core/score/known-reeds.ts";
import { BlockGatherer } from "../../../renderer/audio/block-gatherer.ts";
import { LiveMeter } from "../../../renderer/audio/live-meter.ts";
import { NoteTeller } from "../../../renderer/audio/note-teller.ts";
import { TakeRecorder } from "../../../renderer/audio/take-recorder.ts";
import type { TapBlock } from "../../../renderer/audio/tap-messages.ts";
import { harp } from "../../support/harps.ts";
import { type Memory, mega, memory } from "./memory.ts";
import { BAR_SECONDS, barOfNotes, NOTE_SECONDS } from "./sound.ts";

/** What the audio thread hands over at once. */
const QUANTUM = 128;
const TAKE_SECONDS = 240;
const PAUSE_SECONDS = 60;
/** Ten takes with their pauses, then ten minutes of a walk along the reeds: an hour. */
const TAKES_AN_HOUR = 10;
const WALK_SECONDS = 600;
/** Compiled code and buffers of their final size come in the first hour. */
const SETTLED_HOURS = 1;

interface TakeTiming {
  readonly notes: number;
  /** Mean of onset less written, in ms, the written ones counted in frames from the first sample of all. */
  readonly lateMs: number;
}

/** The way of the sound in the window: gathered from the audio thread, recorded, metered, notes told one by one. */
class WindowPath {
  private frame = 0;
  private readonly recorder: TakeRecorder;
  private readonly meter: LiveMeter;
  private teller: NoteTeller | null = null;
  private readonly gatherer = new BlockGatherer((block) => this.hear(block));
  readonly told = { readings: 0, notes: 0, pieces: 0 };
  private readonly bar: Float32Array;
  private readonly known = knownReeds(harp("C"));

  constructor(private readonly rate: number) {
    this.recorder = new TakeRecorder(rate, () => {
      this.told.pieces++;
    });
    this.meter = new LiveMeter(rate);
    this.bar = barOfNotes(rate);
  }

  play(seconds: number): void {
    for (let left = Math.round(seconds * this.rate); left > 0; left -= QUANTUM) {
      const from = this.frame % this.bar.length;
      const quantum = this.bar.slice(from, Math.min(from + QUANTUM, this.bar.length));
      this.gatherer.take(this.frame, quantum);
      this.frame += quantum.length;
    }
  }

  take(seconds: number): TakeTiming {
    this.recorder.start(this.known);
    this.play(seconds);
    const take = this.recorder.stop();
    if (take === null) throw new Error("nothing was recorded");
    const began = take.firstFrame / this.rate;
    const late = take.listening.notes.map(({ onSeconds }) => {
      const at = began + onSeconds;
      return 1000 * (at - NOTE_SECONDS * Math.round(at / NOTE_SECONDS));
    });
    // A take may begin and end within a note.
    const whole = late.slice(1, -1);
    return { notes: late.length, lateMs: whole.reduce((sum, one) => sum + one, 0) / whole.length };
  }

  walk(seconds: number): void {
    this.teller = new NoteTeller(this.rate, this.known);
    this.play(seconds);
    this.teller = null;
  }

  private hear(block: TapBlock): void {
    if (this.meter.take(block, this.recorder.take(block)) !== null) this.told.readings++;
    this.told.notes += this.teller?.take(block).length ?? 0;
  }
}

/** Hours of practice through the window's own listening, as quick as it goes; lines to be printed. */
export function hoursOfPractice(hours: number, rate: number, tell: (line: string) => void): void {
  const path = new WindowPath(rate);
  const started = performance.now();
  const takes: TakeTiming[] = [];
  const held: Memory[] = [];
  for (let hour = 1; hour <= hours; hour++) {
    for (let take = 0; take < TAKES_AN_HOUR; take++) {
      takes.push(path.take(TAKE_SECONDS));
      path.play(PAUSE_SECONDS);
    }
    path.walk(WALK_SECONDS);
    const now = memory();
    held.push(now);
    tell(`${String(hour).padStart(3)} h   objects ${mega(now.objects)}   buffers ${mega(now.buffers)}`);
  }
  const busy = (performance.now() - started) / 1000;
  const total = ({ objects, buffers }: Memory) => objects + buffers;
  const settled = held.slice(SETTLED_HOURS - 1).map(total);
  const [first = Number.NaN] = settled;
  const growth = 100 * (Math.max(...settled) / first - 1);
  const written = TAKE_SECONDS / NOTE_SECONDS;
  const late = takes.map(({ lateMs }) => lateMs);
  tell(`${((3600 * hours) / busy).toFixed(0)} x real time`);
  tell(
    `memory after the first hour: at most ${growth.toFixed(2)} % more (within 5 %: ${growth <= 5 ? "yes" : "NO"})`,
  );
  tell(
    `${takes.length} takes of ${written} written notes: ${Math.min(...takes.map((one) => one.notes))} to ${Math.max(...takes.map((one) => one.notes))} heard`,
  );
  tell(
    `onset less written: first take ${late[0]?.toFixed(3)} ms, last ${late.at(-1)?.toFixed(3)} ms, furthest apart ${(Math.max(...late) - Math.min(...late)).toFixed(3)} ms`,
  );
  const { readings, notes, pieces } = path.told;
  tell(
    `told meanwhile: ${readings} readings, ${notes} notes on walks, ${pieces} pieces of takes; bar of ${BAR_SECONDS} s`,
  );
}
