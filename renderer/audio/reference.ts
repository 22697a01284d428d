import {
  countInSeconds,
  type Exercise,
  lengthOf,
  onsetOf,
  playingSeconds,
  targetHz,
} from "../../core/exercise/exercise.ts";
import { midiToHz } from "../../core/pitch/equal-temperament.ts";
import { chordNotes } from "../../core/tune/chord-notes.ts";
import { beatsToSeconds } from "../../core/tune/tempo.ts";
import { beats, type Midi } from "../../core/units.ts";
import { Agenda, type DueCall } from "./agenda.ts";
import { ReferenceVoices } from "./reference-voices.ts";
import { keepAwake, soundContext, wakeSound } from "./sound-context.ts";

export interface ReferenceOptions {
  /** Whether the notes sound, or only the beat. */
  readonly notes: boolean;
  readonly metronome: "all" | "count-in" | "none";
  readonly countIn: boolean;
  /** Whether the chords of a tune sound with its notes; they do not where absent. */
  readonly backing?: boolean;
  /** Told the index of a note when it is asked for, in exercises that ask by name, degree or sound. */
  readonly onCall?: (index: number) => void;
  /** Told each beat as it sounds: negative in the count-in, 0 for the first beat of the exercise. */
  readonly onBeat?: (beat: number) => void;
  /** Told the index of each note as its time comes, and null after the last. */
  readonly onNote?: (index: number | null) => void;
  /** Told once, when the last note's time is over. */
  readonly onEnd?: () => void;
  /** Told in place of it where the system takes the sound away; the end is told where this is not asked for. */
  readonly onBroken?: () => void;
}

/** An exercise being sounded. */
export interface Sounding {
  /** When beat 0 sounds, in seconds of the sound context's clock. */
  readonly beatZeroSeconds: number;
  /** Silences everything at once; may be called again. */
  stop(): void;
}

export interface Reference {
  play(exercise: Exercise, options: ReferenceOptions): Promise<Sounding>;
}

/** Time to schedule the first sounds before they are due, also on a busy machine. */
const LEAD_SECONDS = 0.25;
/** Sounds are handed to the audio thread this early: a window in the background looks at its clock once a second. */
const AHEAD_SECONDS = 2;
/** After the last note's time, for its release. */
const TAIL_SECONDS = 0.1;
/** How often the clock is read. */
const LOOK_MS = 15;

/** The reference on Tone.js: a reed-like voice and a metronome. */
export function createReference(): Reference {
  return {
    async play(exercise, options) {
      await wakeSound();
      const { context } = soundContext();
      const rest = keepAwake();
      // Making the instruments takes time when it is done first; the clock is read afterwards.
      const backing = options.backing === true ? backingOf(exercise) : [];
      const besides = widestChord(exercise);
      const share = backing.length > 0 ? BESIDE_CHORDS_SHARE : 1 / (1 + besides);
      const voices = new ReferenceVoices(share);
      const reeds = Array.from({ length: besides }, () => new ReferenceVoices(share));
      const chords = Array.from({ length: widest(backing) }, () => new ReferenceVoices(CHORD_SHARE));
      const lead = options.countIn ? countInSeconds(exercise) : 0;
      const beatZeroSeconds = context.currentTime + LEAD_SECONDS + lead;
      const sounds = new Agenda(
        soundCalls(exercise, options, { voices, reeds, chords }, backing, beatZeroSeconds),
      );
      const picture = new Agenda(pictureCalls(exercise, options));
      const look = () => {
        if (context.state !== "running") {
          stop();
          (options.onBroken ?? options.onEnd)?.();
          return;
        }
        const now = context.currentTime - beatZeroSeconds;
        sounds.callUpTo(now + AHEAD_SECONDS);
        // What is heard now left this clock a moment ago.
        picture.callUpTo(now - (context.outputLatency || 0));
        if (picture.isDone && now > playingSeconds(exercise) + TAIL_SECONDS) stop();
      };
      const timer = setInterval(look, LOOK_MS);
      const stop = () => {
        clearInterval(timer);
        sounds.clear();
        picture.clear();
        for (const one of [voices, ...reeds, ...chords]) one.silence();
        rest();
      };
      look();
      return { beatZeroSeconds, stop };
    },
  };
}

/** One voice for the line and the beat, one for each further reed of a chord, and those of a tune's backing. */
interface Voices {
  readonly voices: ReferenceVoices;
  readonly reeds: readonly ReferenceVoices[];
  readonly chords: readonly ReferenceVoices[];
}

/** Reeds besides the lowest of the widest chord the exercise asks for. */
const widestChord = ({ notes }: Exercise): number =>
  Math.max(0, ...notes.map(({ chord }) => chord?.besides.length ?? 0));

/** Everything to be sounded, by seconds from beat 0. */
function soundCalls(
  exercise: Exercise,
  options: ReferenceOptions,
  { voices, reeds, chords }: Voices,
  backing: readonly BackingChord[],
  beatZeroSeconds: number,
): readonly DueCall[] {
  const { context } = soundContext();
  const sounding = (atSeconds: number, sound: (at: number) => void): DueCall => ({
    atSeconds,
    call: () => {
      const at = beatZeroSeconds + atSeconds;
      // A window that was held up longer than the lead leaves out what is past; late, it would mislead.
      if (at >= context.currentTime) sound(at);
    },
  });
  const notes = options.notes ? exercise.notes : [];
  return [
    ...soundedBeats(exercise, options).map((beat) =>
      sounding(beatSeconds(exercise, beat), (at) => voices.soundBeat(beat % exercise.beatsPerBar === 0, at)),
    ),
    ...notes.map((note) =>
      sounding(onsetOf(exercise, note), (at) =>
        voices.soundNote(targetHz(exercise, note), at, lengthOf(exercise, note)),
      ),
    ),
    ...notes.flatMap((note) =>
      (note.chord?.besides ?? []).map((reed, place) =>
        sounding(onsetOf(exercise, note), (at) =>
          reeds[place]?.soundNote(targetHz(exercise, reed), at, lengthOf(exercise, note)),
        ),
      ),
    ),
    ...backing.map(({ atBeats, notes: chord }) =>
      sounding(beatSeconds(exercise, atBeats), (at) => {
        const length = beatSeconds(exercise, CHORD_BEATS);
        for (const [place, note] of chord.entries()) chords[place]?.soundNote(midiToHz(note), at, length);
      }),
    ),
    ...heardCalls(exercise).map(({ note, atBeats }) =>
      sounding(beatSeconds(exercise, atBeats), (at) =>
        voices.soundNote(targetHz(exercise, note), at, lengthOf(exercise, note)),
      ),
    ),
  ];
}

interface BackingChord {
  readonly atBeats: number;
  readonly notes: readonly Midi[];
}

/** Of full loudness, each note of a chord: together they stay under the tune. */
const CHORD_SHARE = 0.12;
/** [calc] Reed and beat make way for four such notes of half a share each, so that all together stay within full scale. */
const BESIDE_CHORDS_SHARE = 1 - 4 * CHORD_SHARE * 0.5;
/** A chord is struck on each beat and let go before the next. */
const CHORD_BEATS = 0.6;

/** What the backing strikes: on each beat the chord that holds there. */
function backingOf(exercise: Exercise): readonly BackingChord[] {
  const { chords = [] } = exercise;
  const end = (playingSeconds(exercise) * exercise.tempo.bpm) / 60;
  return Array.from({ length: Math.ceil(end - 1e-9) }, (_, beat) => {
    const holds = chords.findLast(({ startBeats }) => startBeats <= beat + 1e-6);
    return { atBeats: beat, notes: holds === undefined ? [] : chordNotes(holds.symbol) };
  });
}

const widest = (backing: readonly BackingChord[]) => Math.max(0, ...backing.map(({ notes }) => notes.length));

/** Notes that are asked for by their sound, and when. */
function heardCalls(exercise: Exercise) {
  if (exercise.targetAs !== "heard") return [];
  return callsOf(exercise);
}

function callsOf(exercise: Exercise) {
  return exercise.notes.flatMap((note) =>
    note.calledAtBeats === undefined ? [] : [{ note, atBeats: note.calledAtBeats }],
  );
}

/** Everything to be told, by seconds from beat 0. */
function pictureCalls(exercise: Exercise, options: ReferenceOptions): readonly DueCall[] {
  const end = playingSeconds(exercise);
  return [
    ...allBeats(exercise, options).map((beat) => ({
      atSeconds: beatSeconds(exercise, beat),
      call: () => options.onBeat?.(beat),
    })),
    ...callsOf(exercise).map(({ note, atBeats }) => ({
      atSeconds: beatSeconds(exercise, atBeats),
      call: () => options.onCall?.(note.index),
    })),
    ...exercise.notes.map((note) => ({
      atSeconds: onsetOf(exercise, note),
      call: () => options.onNote?.(note.index),
    })),
    { atSeconds: end, call: () => options.onNote?.(null) },
    { atSeconds: end, call: () => options.onEnd?.() },
  ];
}

const beatSeconds = (exercise: Exercise, beat: number) => beatsToSeconds(beats(beat), exercise.tempo);

function soundedBeats(exercise: Exercise, options: ReferenceOptions): readonly number[] {
  return allBeats(exercise, options).filter(
    (beat) => options.metronome === "all" || (options.metronome === "count-in" && beat < 0),
  );
}

/** Every beat from the count-in, if there is one, to the end. */
function allBeats(exercise: Exercise, options: ReferenceOptions): readonly number[] {
  const first = options.countIn ? -exercise.countInBeats : 0;
  const end = (playingSeconds(exercise) * exercise.tempo.bpm) / 60;
  return Array.from({ length: Math.max(0, Math.ceil(end - 1e-9) - first) }, (_, n) => first + n);
}
