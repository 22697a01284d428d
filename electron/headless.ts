import { archive } from "./commands/archive.ts";
import { chords } from "./commands/chords.ts";
import { CommandError, inOneLine } from "./commands/command-error.ts";
import { delay, probe } from "./commands/delay.ts";
import { demo } from "./commands/demo.ts";
import { design } from "./commands/design.ts";
import { exercise } from "./commands/exercise.ts";
import { fit } from "./commands/fit.ts";
import { history } from "./commands/history.ts";
import type { Io } from "./commands/io.ts";
import { layouts } from "./commands/layouts.ts";
import { listen } from "./commands/listen.ts";
import { measure } from "./commands/measure.ts";
import { own } from "./commands/own.ts";
import { path } from "./commands/path.ts";
import { plan } from "./commands/plan.ts";
import { positions } from "./commands/positions.ts";
import { progress } from "./commands/progress.ts";
import { render } from "./commands/render.ts";
import { retune } from "./commands/retune.ts";
import { score } from "./commands/score.ts";
import { setlist } from "./commands/setlist.ts";
import { sheet } from "./commands/sheet.ts";
import { tune } from "./commands/tune.ts";
import { PRODUCT_NAME, PRODUCT_VERSION } from "./product.ts";

type Command = (args: readonly string[], io: Io) => Promise<void>;

const COMMANDS: Readonly<Record<string, Command>> = {
  layouts,
  positions,
  chords,
  exercise,
  render,
  listen,
  measure,
  score,
  tune,
  path,
  fit,
  own,
  setlist,
  sheet,
  retune,
  archive,
  history,
  progress,
  plan,
  design,
  probe,
  delay,
  demo,
};

const USAGE = `usage: npm run -s reedpath -- COMMAND …

  layouts [--layout L]                       every layout, or one as a file to change, as JSON
  positions [HARP] [MODE] [--position 1-12] [--bends yes|no|"2 3"] [--overbends yes|no|"4 6"]
                                             home notes and what each mode has, as JSON
  chords [HARP] [--home G] [MODE]            what sounds together, as JSON
                   HARP: [--layout ID|NAME|FILE.json] [--key C] [--register low|usual|high] [--a4 440]
                         [--temperament equal|SCHEME|FILE.scl|CENTS.json]
                   MODE: [--mode mixolydian], or any set of degrees: [--degrees "1 2 b3 5 b7"]
  exercise [HARP] --position 2 [MODE] [--kind KIND] [--bends yes|no|"2 3"] [--overbends yes|no|"4 6"]
           [--dance reel|jig|slip-jig|slide|hornpipe|polka|strathspey|waltz] [--tempo 90]
           [--note-value 1/4] [--beats-per-bar 4] [--count-in 4]
                                             an exercise, as JSON; KIND and its own options:
    scale          RANGE RUN --direction up|down|both
    arpeggio       RUN --degree 5 --chord triad|seventh --octaves 1|2|plain --start … --direction …
    progression    RUN --numerals I-IV-V-I --figure up|up-and-back --start … --repeats 1
    backing        --chords I-IV-V-I|"G Em:1 D7:1" --strokes beats|halves|off-beats|long-short|held
                   --most-holes 2|3|4 --partial yes|no --repeats 2, or for the chords --tune FILE [--number X]
    pattern        RANGE RUN --figure thirds|fourths|sixths|octaves|turns|1-2-3-1|1-2-3-5|threes|fours --direction …
    bend           --figure hold|from-above|match|ladder --hole 3 --breath draw --bent 2 --target shown|hidden
                   --technique bend|overblow|overdraw --hold 4 --rest 4 --repeats 4 --seed 1
    breath-pair    --first 4 --second "-3''" --rounds "1 2 3 4" --round-beats 8
    hole-jumps     RUN --jump 1-4 --breath blow|draw|alternate --direction … --repeats 1
    one-breath     RUN --breath blow|draw|longest --repeats 2
    long-tones     RANGE --tone 4 --rest 4 --direction …
    random-notes   RANGE --target-as name|degree|heard --count 16 --seed 1 --largest-leap 4
                   --note-beats 1 --call-beats 1
                   RANGE: [--octaves 1|2|plain] [--start easiest|lowest] [--from-degree 1]
                   RUN: [--notes-per-beat 1|2|3|4|6] [--rhythm even|dotted|swung] [--swing 2]
                        [--accents none|bars|beats|off-beats]
  render EXERCISE.json OUT.wav [--seed N] [--plant FILE.json] [--rate 48000]
                                             a simulated player's take; what was played, as JSON
  listen TAKE.wav [HARP]                     pitch frames and heard notes, as JSON; a harp, if told, is known
  measure TAKE.wav [HARP] [--together "1 4" --breath blow|draw]
                                             how each reed is tuned, from a recording of the walk along them,
                                             or how two reeds sounded together beat, as JSON
  score EXERCISE.json TAKE.wav… [--way in-time|own-pace|hold] [--latency-ms X] [--start-seconds S]
    [--a4 HZ] [--temperament equal|SCHEME|FILE.scl|CENTS.json] [--reeds MEASURED.json] [--as json|csv]
                                             marks and summary, as JSON, or the marks as a table; of
                                             several takes, or a folder of them, a list, or a row each
  tune FILE [TUNE]                           the notes of a tune, as JSON; FILE is ABC, MusicXML or MIDI
  path FILE [TUNE] [HARP] [PLAY]             how to play it on a harp, note by note, as JSON
       [--alternatives yes|no]
  sheet FILE OUT.html [TUNE] [HARP] [PLAY]   a page to print: staff, tab and breath marks
       [--paper a4|letter]
                   TUNE: [--number X] [--voice V], for MusicXML [--part P], for MIDI [--track N] [--grid 1/16] [--upbeat 1] [--mode dorian]
                   PLAY: [--position 1-12] [--octaves -3..3] [--bends …] [--overbends …] [--pins FILE.json]
                         [--weights FILE.json] [--even yes|no]
  fit FILE… [HARPS] [--best 5]               the harps each tune lies best on, as JSON
  own FILE… [HARPS] [--most-bent 0-1]        the fewest harps that play all tunes, as JSON
       [--owned "standard G, standard A low"]
  setlist FILE… [HARPS] [--list LIST.json] [--times 3] [--pause 0] [--as json|csv|text]
       [--owned "standard G, standard A low"] how long a set lasts and where another harp is needed
                   HARPS: [--layouts A,B] [--keys G,D] [--registers low,usual,high] [--bends …] [--overbends …]
  retune --to L --to-key K --from L --from-key K [--to-register R] [--from-register R] [--a4 440]
         [--temperament …] [--from-a4 440] [--from-temperament …]
         [--measured MEASURED.json|CENTS.json] [--unmeasured refuse|nominal] [--most-semitones 2]
         [--tolerance 3] [--passes 3-6] [--sheet OUT.html] [--paper a4|letter]
                                             how one harp becomes the other, reed by reed, as JSON; the
                                             bench sheet as a page to print
  retune --buy --to L --to-key K | --to-keys "G, low F" [--stock A,B] [--owned "standard G"]
         [--by total|largest]                which harp to buy or take for it, as JSON
  archive ARCHIVE                            looks an archive through and says what it holds, as JSON
  history ARCHIVE [--as json|csv] [--notes yes|no]
                                             its attempts, or all their notes, as JSON or as a table
  progress ARCHIVE [--of all|position|tune|item|group] [--weeks 8|all] [--made-up yes|no]
                                             what changed and how sure that is, what costs most, as JSON
  plan ARCHIVE [--minutes 30] [--day 2026-11-28] [--known mixed|blocked]
                                             what to practise on a day, line by line with reasons, as JSON
  design [FILE…] [HARP] [--scales "G major D4-B6; 3 dorian"] [--triads "I IV V"] [--chords count|ignore]
         [--best 3] [--beside L] [--out LAYOUT.json] LIMITS [TUNES]
                                             layouts that play scales, or suit tunes, with as few and small
                                             changes as can be, as JSON; what must give way where none does
                   LIMITS: [--most-semitones 2] [--most-changed N] [--stay "4 -4"] [--reeds "-5:+1-0"]
                           [--order free|draw-higher|blow-higher|as-now, or a word for each hole]
                           [--keep-chords "4-5-6 blow, 2-3-4 draw"] [--keep-bends "-2'' -3'"]
                   TUNES: [--keys G,D] [--registers usual] [--tune-weights FILE.json] [--bends …] [--overbends …]
                          [--weights FILE.json] [--seed 1] [--tries 1000000]
  probe OUT.wav [--rate 48000]               writes the sound that is played to find the delay
  delay PLAYED.wav RECORDED.wav              by how much later the one lies in the other, as JSON
  demo [--seed N]                            the whole chain in one go, as a table to read

README.md describes the JSON. --version says which Reedpath this is.`;

/**
 * The headless command: JSON on standard output; any error is one line on standard error.
 *
 * @param argv the command and its arguments
 * @returns exit status: 0 done, 1 done but for some of many files, 2 bad input
 */
export async function run(argv: readonly string[], io: Io): Promise<number> {
  const [name, ...rest] = argv;
  if (name === undefined || name === "help" || name === "--help") {
    io.stdout(`${USAGE}\n`);
    return name === undefined ? 2 : 0;
  }
  if (name === "--version") {
    io.stdout(`${PRODUCT_NAME} ${PRODUCT_VERSION}\n`);
    return 0;
  }
  const command = Object.hasOwn(COMMANDS, name) ? COMMANDS[name] : undefined;
  try {
    if (command === undefined) {
      throw new CommandError(`there is no command "${name}"; there are ${Object.keys(COMMANDS).join(", ")}`);
    }
    await command(rest, io);
    return 0;
  } catch (error) {
    io.stderr(`reedpath: ${inOneLine(error)}\n`);
    return error instanceof CommandError ? error.status : 2;
  }
}
