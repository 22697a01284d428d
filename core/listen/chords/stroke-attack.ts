import { NoteEdges } from "../note-edges.ts";
import { SampleHistory } from "../sample-history.ts";
import { ShortSpectra } from "../short-spectra.ts";
import type { ChordReed } from "./chord-reeds.ts";

const HOP_SECONDS = 0.005;
/** As for single notes: 21 ms at the rates sound is halved to. */
const WINDOW_SAMPLES = 512;
/** Frames looked at before and after, with room for their windows. */
const AROUND = 20;
/** Frames before a stroke is noticed in which what was before has stopped, and after in which it sounds. */
const DIP_BACK = 9;
const DIP_AHEAD = 5;
/** A stroke is noticed so long after its attack began, where no reed says more. */
const NOTICED_AFTER_SECONDS = 0.017;

/**
 * First moment of a stroke's attack, found as that of a note is, from the harmonics of all its reeds.
 *
 * @param nearSeconds where the stroke was noticed
 * @param sounding    reeds that surely sound; none where that is not known
 */
export function attackOf(
  samples: Float64Array,
  rateHz: number,
  nearSeconds: number,
  sounding: readonly ChordReed[],
): number {
  if (sounding.length === 0) return Math.max(0, nearSeconds - NOTICED_AFTER_SECONDS);
  const { edges, near, secondsOf } = edgesAround(samples, rateHz, nearSeconds);
  return secondsOf(edges.onset(near, ...sounding.map(({ midi }) => midi)));
}

/**
 * How much most harmonics of every reed of a stroke rise from the deepest point before it: little where nothing began anew
 * and reeds only beat against each other.
 *
 * @returns dB, of the reed that rises least
 */
export function struckDb(
  samples: Float64Array,
  rateHz: number,
  nearSeconds: number,
  sounding: readonly ChordReed[],
): number {
  const { edges, near } = edgesAround(samples, rateHz, nearSeconds);
  const rises = Array.from({ length: DIP_BACK }, (_, back) =>
    Math.min(...sounding.map(({ midi }) => edges.riseDb(near - back, near + DIP_AHEAD, midi))),
  );
  return Math.max(...rises);
}

/** The edges of notes in the frames about a moment, and which of them it is. */
function edgesAround(samples: Float64Array, rateHz: number, nearSeconds: number) {
  const hop = Math.round(HOP_SECONDS * rateHz);
  const near = Math.round((nearSeconds * rateHz) / hop);
  const firstFrame = Math.max(0, near - AROUND);
  const last = Math.min(samples.length, (near + AROUND) * hop);
  const history = new SampleHistory(2 * AROUND * hop);
  history.push(samples.subarray(firstFrame * hop, last));
  const spectra = new ShortSpectra(history, hop, WINDOW_SAMPLES, 2 * AROUND + 1);
  spectra.newest = 2 * AROUND;
  const edges = new NoteEdges(spectra, WINDOW_SAMPLES / rateHz);
  return {
    edges,
    near: near - firstFrame,
    secondsOf: (frame: number) => ((firstFrame + frame) * hop) / rateHz,
  };
}
