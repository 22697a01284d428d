import type { Exercise } from "../../core/exercise/exercise.ts";
import type { KnownReeds } from "../../core/listen/known-reeds.ts";
import { type Attempt, hasBeat, type Way } from "../../core/score/attempt.ts";
import { reedsOfExercise } from "../../core/score/known-reeds.ts";
import { wayFor } from "../../core/score/ways.ts";
import type { EndedListening, LiveReading, MicrophoneSession, RecordedTake } from "../audio/microphone.ts";
import { troubleWords, wayOn } from "../audio/sound-trouble.ts";
import type { RunningTake } from "../store/running-take.ts";
import { BrokenTake, type PlayedTo } from "./broken-take.ts";
import { messageOf } from "./keep-attempt.ts";
import { LiveEar } from "./live-ear.ts";
import { NextRound } from "./next-round.ts";
import { PracticeActivity } from "./practice-activity.ts";
import type { AfterRound, PracticeOptions, PracticeServices } from "./practice-services.ts";
import { type HeardTake, isBusy, type PracticeState, READY, type TakeSource } from "./practice-state.ts";
import { TakeHearing } from "./take-hearing.ts";
import { TakeKeeper } from "./take-keeper.ts";
import { TakeMarker } from "./take-marker.ts";

/** The last note may ring this long past its written end before the take is closed. */
const TAIL_SECONDS = 0.35;
const NO_BEAT: PlayedTo = { beatZeroSeconds: null, delay: undefined };

/**
 * One exercise being practised: hears the reference, records a take, has it marked and kept. Holds the state the
 * sheet shows; every verb may be called at any time and does nothing where it makes no sense.
 */
export class PracticeSession {
  private readonly doing: PracticeActivity;
  private readonly readingListeners = new Set<(reading: LiveReading) => void>();
  private microphone: MicrophoneSession | null = null;
  private delayUnknown = false;
  /** What the running take is played to. */
  private playedTo: PlayedTo = NO_BEAT;
  private broken: BrokenTake | null = null;
  private readonly ear: LiveEar;
  private readonly nextRound: NextRound;
  private after: AfterRound | null = null;
  /** How takes are meant. */
  readonly way: Way;
  private readonly known: KnownReeds;
  private readonly keeper: TakeKeeper;
  private readonly marker: TakeMarker;
  /** The take that was marked, and its reference, heard from any note. */
  readonly hearing: TakeHearing;

  constructor(
    readonly exercise: Exercise,
    readonly services: PracticeServices,
    private readonly options: PracticeOptions,
  ) {
    this.known = reedsOfExercise(exercise);
    this.way = wayFor(exercise, options.way ?? "in time");
    this.ear = new LiveEar(exercise);
    this.keeper = new TakeKeeper(exercise, this.way, services, options);
    this.doing = new PracticeActivity(() => {
      this.nextRound.end();
      this.keeper.drop();
      this.playedTo = NO_BEAT;
      this.broken = null;
      this.ear.rest();
    });
    const { known, way } = this;
    this.marker = new TakeMarker(this.doing, { exercise, services, options, way, known }, (state) =>
      this.begin(state),
    );
    this.nextRound = new NextRound(
      options.againAfterSeconds ?? 0,
      (againInSeconds) =>
        this.doing.update(
          this.doing.current,
          "marked",
          againInSeconds === null ? { againInSeconds, afterWords: null } : { againInSeconds },
        ),
      () => this.goOn(),
    );
    this.hearing = new TakeHearing(services);
    this.hearing.subscribe(() => this.followHearing());
  }

  readonly subscribe = (listener: () => void): (() => void) => this.doing.subscribe(listener);

  readonly getState = (): PracticeState => this.doing.getState();

  private get state(): PracticeState {
    return this.doing.getState();
  }

  /** True where the last take was marked in time though nobody knows how late sound comes in. */
  readonly isDelayUnknown = (): boolean => this.delayUnknown;

  /** The chosen microphone, where it is away and another is open instead; null otherwise. */
  readonly missingMicrophone = (): string | null => this.microphone?.insteadOf ?? null;

  /** True while the microphone is open. */
  readonly isListening = (): boolean => this.microphone !== null;

  /** Live readings with their time counted from beat 0 of the running take, or what stands for it without a beat. */
  onReading(listener: (reading: LiveReading, sinceBeatZeroSeconds: number) => void): () => void {
    const withTime = (reading: LiveReading) => {
      const since = this.ear.sinceBeatZero(reading.atSeconds);
      if (since !== null) listener(reading, since);
    };
    this.readingListeners.add(withTime);
    return () => this.readingListeners.delete(withTime);
  }

  /** Space: start, or stop what is under way, the countdown to the next round among it. */
  async startOrStop(): Promise<void> {
    if (this.state.kind === "playing") return this.finishTake();
    if (isBusy(this.state)) return this.stop();
    if (this.nextRound.isCounting) return this.nextRound.stay();
    return this.play();
  }

  /** The marks stay; no next round begins by itself. */
  stay(): void {
    this.nextRound.stay();
  }

  /** Opens the microphone and begins with the first note held, where the player has chosen that. */
  async awaitNote(): Promise<void> {
    if (this.options.begin !== "held note" || this.state.kind !== "ready" || this.state.awaitsNote) return;
    if (!hasBeat(this.way)) return this.play();
    const mine = this.begin({ kind: "opening" });
    const microphone = await this.openMicrophone(mine);
    if (microphone === null || !this.doing.isCurrent(mine)) return;
    this.ear.awaitNote(() => void this.play());
    this.doing.set({ kind: "ready", trouble: null, awaitsNote: true });
  }

  /** Lets the player hear the exercise. */
  async hear(): Promise<void> {
    if (isBusy(this.state)) return;
    const mine = this.begin({ kind: "hearing", beat: 0, noteIndex: null, thenPlay: false });
    await this.sound(mine, () => {
      this.stop();
      void this.awaitNote();
    });
  }

  /** Sounds the exercise, as the reference has it. */
  private async sound(mine: number, onEnd: () => void): Promise<void> {
    try {
      const sounding = await this.services.reference.play(this.exercise, {
        notes: true,
        metronome: "all",
        countIn: false,
        backing: this.options.backing === "heard",
        onBeat: (beat) => this.doing.update(mine, "hearing", { beat }),
        onNote: (noteIndex) => this.doing.update(mine, "hearing", { noteIndex }),
        onEnd: () => this.doing.isCurrent(mine) && onEnd(),
        onBroken: () => this.doing.fail(mine, `${troubleWords({ kind: "stood still" })} Hear it again.`),
      });
      this.doing.whenStopped(mine, () => sounding.stop());
    } catch (error) {
      this.doing.fail(mine, `The reference cannot be played: ${messageOf(error)}.`);
    }
  }

  /** Opens the microphone if need be, counts in, and records until the last note or `startOrStop`. */
  async play(): Promise<void> {
    const mine = this.begin({ kind: "opening" });
    const microphone = await this.openMicrophone(mine);
    if (microphone === null || !this.doing.isCurrent(mine)) return;
    if (this.way !== "echo") return this.record(mine, microphone);
    const hearing = this.begin({ kind: "hearing", beat: 0, noteIndex: null, thenPlay: true });
    await this.sound(hearing, () => void this.record(this.begin({ kind: "opening" }), microphone));
  }

  private async record(mine: number, microphone: MicrophoneSession): Promise<void> {
    try {
      await this.startTake(microphone);
      if (!hasBeat(this.way)) return this.followPlayer(mine, microphone);
      const sounding = await this.services.reference.play(this.exercise, {
        notes: false,
        metronome: this.options.beatWhilePlaying === "heard" ? "all" : "count-in",
        countIn: true,
        onBeat: (beat) => this.doing.update(mine, "playing", { beat }),
        onNote: (noteIndex) => this.doing.update(mine, "playing", { noteIndex }),
        onCall: (calledIndex) => this.doing.update(mine, "playing", { calledIndex }),
        onEnd: () =>
          void setTimeout(() => this.doing.isCurrent(mine) && this.finishTake(), 1000 * TAIL_SECONDS),
      });
      this.playedTo = {
        beatZeroSeconds: sounding.beatZeroSeconds,
        delay: this.options.delayOf?.(microphone),
      };
      this.keeper.beatZeroAt(sounding.beatZeroSeconds);
      this.ear.goWithBeat(sounding.beatZeroSeconds, () =>
        this.doing.update(mine, "playing", { hearsBeat: true }),
      );
      this.doing.whenStopped(mine, () => sounding.stop());
      if (!this.doing.isCurrent(mine)) return microphone.cancelTake();
      this.doing.set({
        kind: "playing",
        beat: -this.exercise.countInBeats,
        noteIndex: null,
        calledIndex: null,
        refused: microphone.refused,
        hearsBeat: false,
      });
    } catch (error) {
      microphone.cancelTake();
      this.doing.fail(mine, `The take cannot be started: ${messageOf(error)}.`);
    }
  }

  private startTake(microphone: MicrophoneSession): Promise<void> {
    return microphone.startTake(this.known, this.keeper.begin(microphone));
  }

  /** Records without a beat: the take begins with the first note and ends after the last, or with `startOrStop`. */
  private followPlayer(mine: number, microphone: MicrophoneSession): void {
    if (!this.doing.isCurrent(mine)) {
      microphone.cancelTake();
      return;
    }
    this.ear.followPlayer({
      onNote: (noteIndex) => this.doing.update(mine, "playing", { noteIndex }),
      onEnd: () => this.doing.isCurrent(mine) && void this.finishTake(),
      onSilence: () => this.doing.isCurrent(mine) && void this.startTake(microphone),
    });
    const { refused } = microphone;
    this.doing.set({
      kind: "playing",
      beat: null,
      noteIndex: null,
      calledIndex: null,
      refused,
      hearsBeat: false,
    });
  }

  /** Ends the running take and has it marked. */
  private async finishTake(): Promise<void> {
    const microphone = this.microphone;
    const { beatZeroSeconds } = this.playedTo;
    if (microphone === null || (beatZeroSeconds === null && hasBeat(this.way))) return this.stop();
    const running = this.keeper.finish();
    const mine = this.begin({ kind: "working", what: "Marking", share: null });
    try {
      const take = await microphone.stopTake();
      if (!this.doing.isCurrent(mine)) return void running?.discard();
      const delay = this.options.delayOf?.(microphone);
      await this.markTake(mine, take, { beatZeroSeconds, delay }, running);
    } catch (error) {
      running?.leave();
      this.doing.fail(mine, `The take could not be marked: ${messageOf(error)}.`);
    }
  }

  private async markTake(
    mine: number,
    take: RecordedTake,
    { beatZeroSeconds: zero, delay }: PlayedTo,
    running: RunningTake | null,
  ): Promise<void> {
    this.delayUnknown = zero !== null && delay?.kind === "unknown";
    const beatZeroSeconds = zero === null ? null : zero - take.firstSampleSeconds;
    const attempt = await this.marker.score(take.listening, beatZeroSeconds, delay?.delayMs);
    await this.marker.show(mine, attempt, { take, source: "microphone", listening: take.listening, running });
    if (this.doing.isCurrent(mine)) this.countToNext(mine, attempt);
  }

  /** Has what is whole of a take that broke off marked and kept. */
  async markWhole(): Promise<void> {
    const { state, broken } = this;
    if (state.kind !== "broken off" || !state.wholeNotes) return;
    const whole = broken?.takeOut() ?? null;
    if (broken === null || whole === null) return;
    const mine = this.begin({ kind: "working", what: "Marking", share: null });
    try {
      await this.markTake(mine, whole.take, broken.playedTo, whole.running);
    } catch (error) {
      whole.running?.leave();
      this.doing.fail(mine, `The take could not be marked: ${messageOf(error)}.`);
    }
  }

  /** Marks a recording: a file's name and bytes. One that may be another player's is kept only when `whose` says so. */
  readonly markRecording: TakeMarker["markRecording"] = (...asked) => this.marker.markRecording(...asked);

  /** Keeps marks that were not kept by themselves. */
  readonly keep = (): Promise<void> => this.marker.keep();

  /** Shows what marks look like: a simulated player with five mistakes, never kept. */
  readonly simulate = (): Promise<void> => this.marker.simulate();

  /** Puts a kept attempt back on the sheet. */
  reopen(
    id: string,
    attempt: Attempt,
    take: HeardTake | null,
    source: Exclude<TakeSource, "simulated">,
  ): void {
    this.begin({
      kind: "marked",
      attempt,
      take,
      listening: null,
      source,
      keeping: { kind: "kept", id },
      hearingSeconds: null,
      againInSeconds: null,
      afterWords: null,
    });
  }

  /** Plays the take that was marked, from a time in it to its end; no next round cuts it off. */
  hearTake(fromSeconds: number): void {
    if (this.state.kind !== "marked" || this.state.take === null) return;
    this.stay();
    this.hearing.start(this.exercise, this.state.take, {
      what: "take",
      fromIndex: 0,
      toIndex: this.exercise.notes.length - 1,
      fromSeconds,
      toSeconds: null,
      again: false,
      speed: 1,
    });
  }

  /** Deletes the take that is kept with these marks, for good; the marks stay. */
  async dropTake(): Promise<void> {
    const { state } = this;
    if (state.kind !== "marked" || state.keeping.kind !== "kept") return;
    this.stay();
    this.hearing.stop();
    const { current } = this.doing;
    await this.services.history.dropTake(state.keeping.id);
    this.doing.update(current, "marked", { take: null, listening: null });
  }

  /** Silences the take being heard. */
  hushTake(): void {
    this.hearing.stop();
  }

  private followHearing(): void {
    const heard = this.hearing.getState();
    if (this.state.kind !== "marked") return;
    const before = this.state.hearingSeconds;
    const hearingSeconds =
      heard.kind === "silent" ? null : heard.kind === "take" ? heard.atSeconds : (before ?? 0);
    if (hearingSeconds !== before) this.doing.set({ ...this.state, hearingSeconds });
  }

  /** Stops whatever sounds, listens or works, and goes back to before. */
  stop(): void {
    this.doing.end();
    this.microphone?.cancelTake();
    this.doing.set(READY);
  }

  /** Closes the microphone and silences everything: the screen is left. */
  dispose(): void {
    this.doing.end();
    this.hearing.stop();
    this.microphone?.close();
    this.microphone = null;
    this.doing.leave();
    this.readingListeners.clear();
  }

  private async openMicrophone(mine: number): Promise<MicrophoneSession | null> {
    if (this.microphone !== null) return this.microphone;
    const opened = await this.services.openMicrophone();
    if (opened.kind === "problem") {
      this.doing.fail(mine, opened.problem.words);
      return null;
    }
    if (!this.doing.isCurrent(mine)) {
      opened.session.close();
      return null;
    }
    const { session } = opened;
    this.microphone = session;
    session.onReading((reading) => {
      this.ear.hear(reading);
      for (const listener of this.readingListeners) listener(reading);
    });
    session.onEnded((ended) => this.microphoneGone(session, ended));
    return session;
  }

  private microphoneGone(session: MicrophoneSession, { trouble, rescued }: EndedListening): void {
    if (this.microphone !== session) return;
    this.microphone = null;
    const { state } = this;
    if (state.kind === "playing") this.breakOff(trouble, rescued);
    else if (state.kind === "opening" || (state.kind === "ready" && state.awaitsNote))
      this.doing.fail(this.doing.current, `${troubleWords(trouble)} ${wayOn(trouble)}.`);
    else this.doing.tell();
  }

  /** The take ends here: what is whole of it is offered to be marked. */
  private breakOff(trouble: EndedListening["trouble"], rescued: EndedListening["rescued"]): void {
    const broken = new BrokenTake(this.exercise, this.playedTo, this.keeper.finish());
    const mine = this.begin({ kind: "broken off", trouble, wholeNotes: null });
    this.broken = broken;
    this.doing.whenStopped(mine, () => broken.letGo());
    void broken.look(rescued).then((wholeNotes) => this.doing.update(mine, "broken off", { wholeNotes }));
  }

  /** How takes are marked here. @param beatZeroSeconds null where it is to be found from the notes */
  readonly markingSettings: TakeMarker["settings"] = (...asked) => this.marker.settings(...asked);

  private countToNext(mine: number, attempt: Attempt): void {
    this.after = this.options.afterRound?.(attempt) ?? null;
    this.doing.update(mine, "marked", { afterWords: this.after?.words ?? null });
    if (this.after === null || this.after.begin !== null) this.nextRound.start();
  }

  private goOn(): void {
    const begin = this.after?.begin ?? null;
    if (begin !== null) begin();
    else void this.play();
  }

  private begin(state: PracticeState): number {
    this.hearing.stop();
    return this.doing.begin(state);
  }
}
