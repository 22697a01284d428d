import type { Exercise } from "../exercise/exercise.ts";
import type { HeardNote, Leak } from "../listen/listening.ts";
import { type Milliseconds, seconds } from "../units.ts";
import type { Answered, Sound } from "./answers.ts";
import type { AbandonedTry, ExtraNote, Ornament } from "./attempt.ts";
import { chordAround } from "./chords.ts";
import { diagnoseExtra } from "./diagnosis.ts";
import { actionsOf, nearestNote } from "./marks.ts";
import { touches } from "./played-parts.ts";
import { secondReedOf } from "./second-reed.ts";

/** What was heard besides the answers. */
export class Besides {
  /** The expected note each sound answers, or belongs to as a part of its answer; by place in `sounds`. */
  private readonly belongsTo: readonly (number | null)[];
  /** The expected note with whose answer a sound is its second hole heard by itself; by place in `sounds`. */
  private readonly secondOf: readonly (number | null)[];

  constructor(
    private readonly exercise: Exercise,
    private readonly answered: Answered,
    private readonly latencyMs: Milliseconds,
  ) {
    this.belongsTo = ownersOf(answered);
    this.secondOf = secondsOf(answered, this.belongsTo);
  }

  /** The sounds that answer an expected note: the note, and what goes on of it after ornaments. */
  partsOf(index: number): readonly HeardNote[] {
    const { belongsTo } = this;
    const parts: HeardNote[] = [];
    for (let at = belongsTo.indexOf(index); at >= 0; at = belongsTo.indexOf(index, at + 1)) {
      const sound = this.answered.sounds[at];
      if (sound !== undefined) parts.push(sound.note);
    }
    return parts;
  }

  /**
   * What sounds along with the answer of an expected note, as its ear tells it; or, where two holes are so alike in
   * level that now the one is heard and now the other, the other heard for a while by itself.
   */
  leakOf(index: number): Leak | null {
    const { sounds } = this.answered;
    const own = sounds[this.belongsTo.indexOf(index)]?.note;
    if (own === undefined) return null;
    const second = sounds[this.secondOf.indexOf(index)]?.note;
    if (second === undefined || second.pitchMidi === null) return own.leak;
    const alone = { pitchMidi: second.pitchMidi, levelDb: second.levelDbfs - own.levelDbfs };
    return own.leak !== null && own.leak.levelDb >= alone.levelDb ? own.leak : alone;
  }

  /** Notes that nothing asked for. A sound whose pitch cannot be read is no ground for accusing anyone of one. */
  extras(): readonly ExtraNote[] {
    const { notes } = this.exercise;
    return this.loose((sound) => sound.part.kind === "note" && sound.note.pitchMidi !== null).flatMap(
      (at) => {
        const note = this.answered.sounds[at]?.note;
        if (note === undefined || note.pitchMidi === null) return [];
        const afterIndex = this.answerBefore(at) ?? -1;
        const before = notes[afterIndex];
        const second = before === undefined ? null : secondReedOf(this.exercise, before.action, note.leak);
        const heardMidi = nearestNote(this.exercise, note.pitchMidi);
        return [
          {
            verdict: "extra" as const,
            afterIndex,
            heardMidi,
            heardAs: actionsOf(this.exercise, heardMidi),
            diagnosis: diagnoseExtra(this.exercise, before, notes[afterIndex + 1], note.pitchMidi, second),
            ...this.placeOf(note, note),
          },
        ];
      },
    );
  }

  /** Ornaments with a pitch, and those that show by parting a note. */
  ornaments(): readonly Ornament[] {
    const { sounds } = this.answered;
    return this.loose((sound) => sound.part.kind === "ornament").flatMap((at) => {
      const sound = sounds[at];
      if (sound === undefined) return [];
      const [before, after] = [this.belongsTo[at - 1] ?? null, this.belongsTo[at + 1] ?? null];
      const within = before !== null && before === after;
      if (sound.note.pitchMidi === null && !within) return [];
      const leads = !within && after !== null && touches(sound.note, sounds[at + 1]?.note);
      const heardMidi =
        sound.note.pitchMidi === null ? null : nearestNote(this.exercise, sound.note.pitchMidi);
      return [
        {
          index: (leads ? after : before) ?? -1,
          place: leads ? ("before" as const) : ("in" as const),
          heardMidi,
          heardAs: heardMidi === null ? [] : actionsOf(this.exercise, heardMidi),
          ...this.placeOf(sound.note, sound.note),
        },
      ];
    });
  }

  /** Seconds by which ornaments lead into the answer of an expected note; 0 without any. */
  leadSeconds(index: number): number {
    const { sounds } = this.answered;
    const first = this.belongsTo.indexOf(index);
    const answer = sounds[first]?.note;
    if (answer === undefined) return 0;
    let from = first;
    while (this.isLeadIn(from - 1)) from--;
    return answer.onSeconds - (sounds[from]?.note.onSeconds ?? answer.onSeconds);
  }

  abandoned(): readonly AbandonedTry[] {
    return this.answered.abandoned.flatMap((one) => {
      const [first, last] = [this.answered.sounds[one.fromPlayed], this.answered.sounds[one.toPlayed]];
      if (first === undefined || last === undefined) return [];
      const notes = this.answered.sounds
        .slice(one.fromPlayed, one.toPlayed + 1)
        .filter(({ part }) => part.kind === "note").length;
      return [
        { fromIndex: one.fromWritten, toIndex: one.toWritten, notes, ...this.placeOf(first.note, last.note) },
      ];
    });
  }

  private isLeadIn(at: number): boolean {
    const { sounds } = this.answered;
    const [sound, next] = [sounds[at], sounds[at + 1]];
    if (sound === undefined || next === undefined || sound.part.kind !== "ornament") return false;
    return this.belongsTo[at] === null && touches(sound.note, next.note);
  }

  /** Places of the sounds of some kind that belong to no answer and no abandoned try. */
  private loose(isKind: (sound: Sound) => boolean): readonly number[] {
    const { sounds, abandoned } = this.answered;
    const given = (at: number) => abandoned.some((one) => at >= one.fromPlayed && at <= one.toPlayed);
    return sounds.flatMap((sound, at) =>
      this.belongsTo[at] === null && this.secondOf[at] === null && isKind(sound) && !given(at) ? [at] : [],
    );
  }

  private answerBefore(at: number): number | null {
    for (let before = at - 1; before >= 0; before--) {
      const index = this.belongsTo[before] ?? null;
      if (index !== null) return index;
    }
    return null;
  }

  /** Places in the take are places in the recording as it is: the latency goes back on. */
  private placeOf(first: HeardNote, last: HeardNote) {
    const latency = this.latencyMs / 1000;
    return { onSeconds: seconds(first.onSeconds + latency), offSeconds: seconds(last.offSeconds + latency) };
  }
}

/** Whose second hole each sound is, heard by itself: it belongs to no answer, but to a chord with one. */
function secondsOf({ sounds }: Answered, belongsTo: readonly (number | null)[]): readonly (number | null)[] {
  const seconds = new Array<number | null>(sounds.length).fill(null);
  const notes = sounds.map(({ note }) => note);
  const free = (place: number) => place >= 0 && place < sounds.length && belongsTo[place] === null;
  for (const [at, owner] of belongsTo.entries()) {
    if (owner === null) continue;
    const { from, to } = chordAround(notes, at, free);
    for (let place = from; place <= to; place++) if (place !== at) seconds[place] ??= owner;
  }
  return seconds;
}

function ownersOf({ sounds, answers }: Answered): readonly (number | null)[] {
  const owners = new Array<number | null>(sounds.length).fill(null);
  for (const { written, played } of answers) owners[played] = written;
  // A note goes on after an ornament as part of the last answer given in the same row of parts.
  const latest = new Map<number, number>();
  for (const [at, { part, place }] of sounds.entries()) {
    const root = part.kind === "going on" ? part.from : place;
    const owner = owners[at] ?? null;
    if (owner !== null) latest.set(root, owner);
    else if (part.kind === "going on") owners[at] = latest.get(root) ?? null;
  }
  return owners;
}
