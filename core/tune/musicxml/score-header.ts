import { ownRow } from "../../reading/own-row.ts";
import type { TuneField } from "../tune.ts";
import { LONGEST_TEXT } from "./limits.ts";
import { child, childrenOf, childText, type XmlElement } from "./xml-tree.ts";

export interface ScoreHeader {
  readonly titles: readonly string[];
  readonly fields: readonly TuneField[];
  readonly rhythm: string | null;
}

/** Kinds of fields of ours that a `miscellaneous-field` can be named after. */
const KINDS = [
  "origin",
  "source",
  "book",
  "transcription",
  "notes",
  "history",
  "discography",
  "group",
  "file",
];
/** `creator` types that are not the composer. */
const CREATORS: Readonly<Record<string, string>> = {
  arranger: "transcription",
  transcriber: "transcription",
};

/** Titles and people of a score: `work`, `movement-title`, `identification`. */
export function readScoreHeader(root: XmlElement): ScoreHeader {
  const identification = child(root, "identification");
  const misc = childrenOf(child(identification, "miscellaneous"), "miscellaneous-field").map((one) => ({
    kind: (one.attributes.name ?? "").trim().toLowerCase(),
    text: line(one.text),
  }));
  const titles = [
    childText(child(root, "work"), "work-title"),
    childText(root, "movement-title"),
    ...misc.filter(({ kind }) => kind === "other title").map(({ text }) => text),
  ].flatMap((one) => (one === null || one === "" ? [] : [line(one)]));
  const fields = [
    ...childrenOf(identification, "creator").map((one) => {
      const type = one.attributes.type ?? "composer";
      return {
        kind: type === "composer" ? "composer" : (ownRow(CREATORS, type) ?? "notes"),
        text: line(one.text),
      };
    }),
    ...childrenOf(identification, "rights").map((one) => ({ kind: "copyright", text: line(one.text) })),
    ...childrenOf(identification, "source").map((one) => ({ kind: "source", text: line(one.text) })),
    ...misc.filter(({ kind }) => KINDS.includes(kind)),
  ];
  return {
    titles: [...new Set(titles)],
    fields: fields.filter(({ text }) => text !== ""),
    rhythm: misc.find(({ kind, text }) => kind === "rhythm" && text !== "")?.text ?? null,
  };
}

const line = (text: string) => text.slice(0, LONGEST_TEXT).replace(/\s+/g, " ").trim();
