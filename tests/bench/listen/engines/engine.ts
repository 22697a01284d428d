import type { KnownReeds } from "../../../../core/listen/known-reeds.ts";
import { toListenJson } from "../../../../core/listen/listen-json.ts";
import { listenToTake } from "../../../../core/listen/listen-to-take.ts";
import { readTakeFile } from "../../../../electron/commands/files.ts";
import { run } from "../../../../electron/headless.ts";
import { type Answer, readAnswer } from "./answer.ts";
import { aubioAnswer } from "./aubio.ts";
import { pitchyAnswer } from "./pitchy.ts";
import { praatAnswer } from "./praat.ts";
import { programOutput } from "./program.ts";

/** Who listens: this program, a peer, or any command. */
export type Engine = { readonly name: string } & (
  | { readonly kind: "own" }
  | { readonly kind: "knowing" }
  | { readonly kind: "peer"; readonly peer: Peer }
  | { readonly kind: "command"; readonly command: string }
);

/** Peers, and the Debian package of those that are programs. */
export const PEERS = {
  pitchy: { debianPackage: null, program: null },
  "praat-ac": { debianPackage: "praat", program: "praat" },
  "aubio-yinfast": { debianPackage: "aubio-tools", program: "aubiopitch" },
  "aubio-yinfft": { debianPackage: "aubio-tools", program: "aubiopitch" },
} as const;
export type Peer = keyof typeof PEERS;

export const isPeer = (name: string): name is Peer => Object.hasOwn(PEERS, name);

/** This program's column in every table. */
export const OWN: Engine = { kind: "own", name: "reedpath" };

/** This program told how the holes of the instrument lie, as it is when it marks an exercise. */
export const KNOWING: Engine = { kind: "knowing", name: "reedpath, harp known" };

/**
 * What an engine hears in a take.
 *
 * @param wav absolute path
 * @throws Error saying in one line what went wrong
 */
export async function answerOf(engine: Engine, wav: string): Promise<Answer> {
  switch (engine.kind) {
    case "own":
      return ownAnswer(wav);
    case "knowing":
      return knowingAnswer(wav);
    case "peer":
      return peerAnswer(engine.peer, wav);
    case "command": {
      const quoted = `'${wav.replaceAll("'", "'\\''")}'`;
      const output = await programOutput("bash", ["-c", engine.command.replaceAll("{}", quoted)]);
      const answer = readAnswer(output);
      if (answer === null) throw new Error(`no JSON of frames and notes from: ${engine.command}`);
      return answer;
    }
  }
}

export function peerAnswer(peer: Peer, wav: string): Promise<Answer> {
  if (peer === "pitchy") return Promise.resolve(pitchyAnswer(wav));
  if (peer === "praat-ac") return praatAnswer(wav);
  return aubioAnswer(peer === "aubio-yinfft" ? "yinfft" : "yinfast", wav);
}

/**
 * The makers draw the second reed 3 to 5 semitones from any note, which no one harp has: known is that, and not which.
 */
const ANY_NOTE_AND_ITS_NEIGHBOURS: KnownReeds = Array.from({ length: 61 }, (_, n) => ({
  midi: 45 + n,
  besideMidi: [-5, -4, -3, 3, 4, 5].map((semitones) => 45 + n + semitones),
}));

async function knowingAnswer(wav: string): Promise<Answer> {
  const { samples, sampleRateHz } = await readTakeFile(wav);
  const listening = listenToTake(samples, sampleRateHz, undefined, ANY_NOTE_AND_ITS_NEIGHBOURS);
  const answer = readAnswer(JSON.stringify(toListenJson(listening)));
  if (answer === null) throw new Error(`listening to ${wav} gave no frames and notes`);
  return answer;
}

/** The real headless command, in this process. */
async function ownAnswer(wav: string): Promise<Answer> {
  let out = "";
  let complaint = "";
  const stdout = (text: string) => {
    out += text;
  };
  const stderr = (text: string) => {
    complaint += text;
  };
  const status = await run(["listen", wav], { stdout, stderr });
  const answer = status === 0 ? readAnswer(out) : null;
  if (answer === null) throw new Error(complaint.trim() || `listen ${wav} printed no frames and notes`);
  return answer;
}
