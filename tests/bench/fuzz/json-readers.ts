import fc from "fast-check";
import { drillOfExercise } from "../../../core/exercise/drill-of-exercise.ts";
import { exerciseToAbc } from "../../../core/exercise/exercise-abc.ts";
import { readExercise } from "../../../core/exercise/exercise-json.ts";
import { readLayout, writeLayout } from "../../../core/instrument/layout-json.ts";
import {
  REED_CENTS_SCHEMA,
  REED_CENTS_VERSION,
  readReedCents,
} from "../../../core/instrument/reed-cents-json.ts";
import { STANDARD_LAYOUT } from "../../../core/instrument/stock-layouts.ts";
import { FIRST_WEIGHTS, readWeights } from "../../../core/path/weights.ts";
import { readScala } from "../../../core/pitch/scala-scale.ts";
import { Fault, parsed } from "../../../core/reading/json-values.ts";
import { PLANT_SCHEMA, PLANT_VERSION, readPlants } from "../../../core/simulate/plants.ts";
import {
  MEASURED_SCHEMA,
  MEASURED_VERSION,
  readMeasured,
} from "../../../core/workshop/measure/measured-json.ts";
import { CommandError } from "../../../electron/commands/command-error.ts";
import { weighedBy } from "../../../electron/commands/design-options.ts";
import { pinsOf } from "../../../electron/commands/plan-options.ts";
import { setListOf } from "../../../electron/commands/set-list-file.ts";
import { readSettings } from "../../../renderer/store/settings-store.ts";
import { anyLayout } from "../../support/any-layout.ts";
import { setListValue } from "../../support/archives.ts";
import { exerciseOf } from "../../support/drills.ts";
import { harp } from "../../support/harps.ts";
import { mutatedText } from "../../support/mutate-text.ts";
import { tuneOf } from "../../support/small-tunes.ts";
import { below, drawn, oneOf } from "./chance.ts";
import {
  bytesOf,
  type FuzzedReader,
  faultsOfData,
  type Outcome,
  READ,
  refused,
  textOf,
} from "./fuzzed-reader.ts";
import { changedJson } from "./json-changes.ts";

const TITLES = ["Chairs Against the Wall", "constructor", "__proto__"];
const TUNES = TITLES.map((title) => tuneOf([{ written: 1, notes: "D4 E4 F#4 G4" }], { title }));
/** Numbers of the notes of the first. */
const WRITTEN = TUNES[0]?.notes.map(({ written }) => written) ?? [];
const TUNE_FILE = "tune.abc";

/** Readers of JSON and of Scala files. @param beside folder with an exercise, a take and a tune for the commands that need one */
export function jsonReaders(beside: string): readonly FuzzedReader[] {
  const exercise = exerciseOf();
  const own = harp("G");
  const layouts = fc
    .sample(anyLayout, { seed: 7, numRuns: 20 })
    .map((layout) => JSON.parse(writeLayout(layout)));
  const cents = {
    schema: REED_CENTS_SCHEMA,
    version: REED_CENTS_VERSION,
    name: "as filed",
    holes: STANDARD_LAYOUT.holes.map(() => ({ blow: 1.5, draw: null })),
  };
  const plants = {
    schema: PLANT_SCHEMA,
    version: PLANT_VERSION,
    faults: [
      { kind: "wrong", index: 1, midi: 60 },
      { kind: "missed", index: 3 },
      { kind: "extra", index: 4 },
      { kind: "pitch", index: 5, offsetCents: -20 },
      { kind: "time", index: 6, offsetMs: 50 },
    ],
  };
  const measured = {
    schema: MEASURED_SCHEMA,
    version: MEASURED_VERSION,
    keyNote: own.keyNote,
    holes: own.layout.holes,
    reeds: own.layout.holes.flatMap((_, n) => [
      { hole: n + 1, breath: "blow", hz: null },
      { hole: n + 1, breath: "draw", hz: 440 },
    ]),
  };
  const weights = Object.fromEntries(TITLES.slice(0, 2).map((title, n) => [title, n + 1]));
  const path = (name: string) => `${beside}/${name}`;
  return [
    {
      name: "layout",
      ending: "json",
      make: (random) =>
        random() < 0.1 ? bytesOf(writeLayout(drawn(random, anyLayout))) : changedJson(random, layouts),
      read: (bytes) => readLayoutTwice(textOf(bytes)),
      command: (file) => ["positions", "--layout", file],
    },
    {
      name: "reed-cents",
      ending: "json",
      make: (random) => changedJson(random, [cents]),
      read: (bytes) => outcomeOf(readReedCents(textOf(bytes), STANDARD_LAYOUT)),
      command: (file) => ["chords", "--temperament", file],
    },
    {
      name: "exercise",
      ending: "json",
      make: (random) => changedJson(random, [exercise]),
      read: (bytes) => readExerciseThrough(textOf(bytes)),
      command: (file) => ["score", file, path("take.wav")],
    },
    {
      name: "planted-faults",
      ending: "json",
      make: (random) => changedJson(random, [plants]),
      read: (bytes) => outcomeOf(readPlants(textOf(bytes), exercise)),
      command: null,
    },
    {
      name: "measured-reeds",
      ending: "json",
      make: (random) => changedJson(random, [measured]),
      read: (bytes) => outcomeOf(readMeasured(textOf(bytes), own)),
      command: (file) => [
        "retune",
        "--from",
        "standard",
        "--from-key",
        "G",
        "--to",
        "standard",
        "--to-key",
        "A",
        "--unmeasured",
        "nominal",
        "--measured",
        file,
      ],
    },
    {
      name: "path-weights",
      ending: "json",
      make: (random) => changedJson(random, [FIRST_WEIGHTS]),
      read: (bytes) => ofCommand(() => outcomeOf(readWeights(parsed(textOf(bytes))))),
      command: (file) => ["path", path(TUNE_FILE), "--weights", file],
    },
    {
      name: "pins",
      ending: "json",
      make: (random) =>
        changedJson(random, [
          [
            { written: WRITTEN[0], tab: "-4" },
            { written: WRITTEN[2], tab: "-3''" },
          ],
        ]),
      read: (bytes) => ofCommand(() => plain(pinsOf(parsed(textOf(bytes)), "pins", tuneNamed(0)))),
      command: (file) => ["path", path(TUNE_FILE), "--pins", file],
    },
    {
      name: "set-list",
      ending: "json",
      make: (random) =>
        changedJson(random, [setListValue(), withHarp("standard D"), withHarp("//host/share/layout.json G")]),
      read: (bytes) =>
        ofCommand(() =>
          plain(
            setListOf(parsed(textOf(bytes)), "list", (title) => TITLES.find((one) => one === title) ?? null),
          ),
        ),
      command: (file) => [
        "setlist",
        path(TUNE_FILE),
        "--list",
        file,
        "--layouts",
        "standard",
        "--keys",
        "G,D",
      ],
    },
    {
      name: "tune-weights",
      ending: "json",
      make: (random) => changedJson(random, [weights]),
      read: (bytes) => ofCommand(() => readTuneWeights(textOf(bytes))),
      command: null,
    },
    {
      name: "settings",
      ending: "json",
      make: (random) => changedJson(random, [readSettings({}), { a4Hz: 443, look: "dark" }]),
      read: (bytes) => ofCommand(() => plain(readSettings(parsed(textOf(bytes))))),
      command: null,
    },
    {
      name: "Scala",
      ending: "scl",
      make: (random) => bytesOf(random() < 0.5 ? mutatedText(random, SCALES) : madeScale(random)),
      read: (bytes) => outcomeOf(readScala(textOf(bytes))),
      command: (file) => ["positions", "--temperament", file],
    },
  ];
}

const tuneNamed = (place: number) => {
  const tune = TUNES[place];
  if (tune === undefined) throw new Error(`no tune ${place}`);
  return tune;
};

function withHarp(words: string) {
  const list = setListValue();
  return {
    ...list,
    sets: list.sets.map((set) => ({ ...set, tunes: set.tunes.map((tune) => ({ ...tune, harp: words })) })),
  };
}

type Reading = { readonly kind: string } | { readonly kind: "unreadable"; readonly reason: string };

const outcomeOf = (reading: Reading): Outcome =>
  reading.kind === "unreadable" && "reason" in reading ? refused(reading.reason) : plain(reading);

const plain = (value: unknown): Outcome => ({ ...READ, faults: faultsOfData(value) });

/** What commands and the parser throw of a person's data is their way of refusing it. */
function ofCommand(read: () => Outcome): Outcome {
  try {
    return read();
  } catch (error) {
    if (error instanceof CommandError || error instanceof Fault) return refused(error.message);
    throw error;
  }
}

function readLayoutTwice(text: string): Outcome {
  const read = readLayout(text);
  if (read.kind === "unreadable") return refused(read.reason);
  const again = readLayout(writeLayout(read.layout));
  const same = again.kind === "layout" && JSON.stringify(again.layout) === JSON.stringify(read.layout);
  return {
    kind: "read",
    faults: same ? faultsOfData(read) : ["written and read again it is another layout"],
  };
}

/** What is read is drawn, made again from its parameters, and written and read again. */
function readExerciseThrough(text: string): Outcome {
  const read = readExercise(text);
  if (read.kind === "unreadable") return refused(read.reason);
  exerciseToAbc(read.exercise);
  drillOfExercise(read.exercise);
  const again = readExercise(JSON.stringify(read.exercise));
  const same = again.kind === "exercise" && JSON.stringify(again.exercise) === JSON.stringify(read.exercise);
  return {
    kind: "read",
    faults: same ? faultsOfData(read) : ["written and read again it is another exercise"],
  };
}

function readTuneWeights(text: string): Outcome {
  const weighed = weighedBy(parsed(text), "weights", TUNES);
  const wrong = weighed.filter(({ weight }) => !(weight > 0));
  return { kind: "read", faults: wrong.map(({ tune, weight }) => `${tune.title} weighs ${weight}`) };
}

const SCALES = [
  "! meantone.scl\nQuarter-comma meantone\n 12\n!\n 76.04900\n 193.15686\n 310.26471\n 5/4\n 503.42157\n 579.47057\n 696.57843\n 25/16\n 889.73529\n 1006.84314\n 1082.89214\n 2/1\n",
  "\n1\n2/1\n",
];
const PITCHES = [
  "2/1",
  "1200.0",
  "701.955",
  "3/2",
  "-5.0",
  "0/1",
  "1/0",
  "4294967296/1",
  "1e3",
  "99999.",
  ".",
  "2",
  "",
  "!",
  "a",
  "9".repeat(400),
  "1/".repeat(50),
];

function madeScale(random: () => number): string {
  const count = oneOf(random, [1, 2, 7, 12, 128, 129, 0, -1, 1e9]);
  const lines = Array.from({ length: Math.max(0, Math.min(200, count + below(random, 3) - 1)) }, () =>
    oneOf(random, PITCHES),
  );
  return [
    oneOf(random, ["a scale", "", "\u0000"]),
    ` ${count}`,
    ...lines,
    oneOf(random, ["2/1", "1200.", ""]),
  ].join(oneOf(random, ["\n", "\r\n", "\r"]));
}
