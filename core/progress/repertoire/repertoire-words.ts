import { harpName } from "../../instrument/harp.ts";
import { positionName } from "../../instrument/positions.ts";
import { type Field, toCsv } from "../../score/csv.ts";
import { tempoInWords, tempoSign } from "../../tune/tempo.ts";
import type { HarpChange, PlannedDance, PlannedSet, PlannedTune } from "./repertoire-dance.ts";
import type { HarpPlace } from "./repertoire-lay.ts";

/** "3:24": minutes and seconds, with hours only where there are any: "1:02:00". */
export function lastsInWords(seconds: number): string {
  const whole = Math.round(seconds);
  const [hours, minutes, rest] = [Math.floor(whole / 3600), Math.floor(whole / 60) % 60, whole % 60];
  const two = (value: number) => String(value).padStart(2, "0");
  return hours === 0 ? `${minutes}:${two(rest)}` : `${hours}:${two(minutes)}:${two(rest)}`;
}

/** "G harp, 2nd position". */
export function placeInWords({ harp, position }: Pick<HarpPlace, "harp" | "position">): string {
  return position === null ? harpName(harp) : `${harpName(harp)}, ${positionName(position)} position`;
}

/** "4 bends, lacks 2 notes"; empty where every note is plain. Notes are counted as they are played once through. */
export function troubleInWords({ bent, overblown, missing }: HarpPlace): string {
  return [
    ...(bent === 0 ? [] : [counted(bent, "bend")]),
    ...(overblown === 0 ? [] : [counted(overblown, "overblow")]),
    ...(missing === 0 ? [] : [`lacks ${counted(missing, "note")}`]),
  ].join(", ");
}

/** "take the A harp (standard), 0.5 s". */
export function changeInWords({ to, seconds }: HarpChange): string {
  const time = seconds < 0.05 ? "straight on, no time between" : `${Math.round(10 * seconds) / 10} s between`;
  return `take the ${harpName(to.harp)}: ${time}`;
}

const counted = (count: number, word: string) => `${count} ${word}${count === 1 ? "" : "s"}`;

export const setName = (set: { readonly name: string }, place: number): string =>
  set.name === "" ? `Set ${place + 1}` : set.name;

const HEADER: readonly Field[] = [
  "set",
  "tune",
  "title",
  "times_through",
  "tempo",
  "harp",
  "position",
  "octaves_up",
  "change_before",
  "change_seconds",
  "plain",
  "bent",
  "overblown",
  "missing",
  "seconds",
];
const OCTAVE = 12;

/** A row for each tune. */
export function danceCsv(dance: PlannedDance): string {
  const rows = dance.sets.flatMap((set, number) =>
    set.tunes.map((planned, place) => row(set, number, planned, place)),
  );
  return toCsv([HEADER, ...rows]);
}

function row(set: PlannedSet, number: number, { tune, tempo, place, seconds }: PlannedTune, at: number) {
  const change = set.changes.find(({ after }) => after === at - 1);
  return [
    setName(set.set, number),
    at + 1,
    tune.title,
    tune.times,
    tempo === null ? null : tempoInWords(tempo),
    place === null ? null : harpName(place.harp),
    place?.position ?? null,
    place === null ? null : place.shift / OCTAVE,
    change === undefined ? "no" : "yes",
    change === undefined ? null : Math.round(1000 * change.seconds) / 1000,
    place?.plain ?? null,
    place?.bent ?? null,
    place?.overblown ?? null,
    place?.missing ?? null,
    place === null ? null : Math.round(1000 * seconds) / 1000,
  ];
}

/** To be read: one line for each tune, under the name and length of its set. */
export function danceText(dance: PlannedDance): string {
  const sets = dance.sets.map((one, number) => {
    const lines = one.tunes.flatMap((planned, place) => [
      ...one.changes
        .filter(({ after }) => after === place - 1)
        .map((change) => `     ${changeInWords(change)}`),
      tuneText(planned, place),
    ]);
    return [`${setName(one.set, number)}, ${lastsInWords(one.seconds)}`, ...lines].join("\n");
  });
  const total = `${lastsInWords(dance.seconds)} with breaks, ${lastsInWords(dance.playedSeconds)} played, ${counted(dance.changes, "harp change")}`;
  return `${[dance.list.name, total].join("\n")}\n\n${sets.join("\n\n")}\n`;
}

function tuneText({ tune, tempo, place, seconds }: PlannedTune, at: number): string {
  const head = `  ${at + 1}. ${tune.title}, ${tune.times} times`;
  if (place === null || tempo === null) return `${head}: this tune is no longer there`;
  const trouble = troubleInWords(place);
  const what = [head, tempoSign(tempo), placeInWords(place), ...(trouble === "" ? [] : [trouble])];
  return `${what.join(", ")}, ${lastsInWords(seconds)}`;
}
