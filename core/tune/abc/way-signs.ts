import { ownRow } from "../../reading/own-row.ts";
import type { Jump } from "../written-bar.ts";

/** A sign or word that says where playing goes on. */
export type WaySign =
  | { readonly kind: "segno" | "fine" | "coda" | "to coda" }
  | { readonly kind: "jump"; readonly jump: Jump };

const PLAIN: Readonly<Record<string, WaySign>> = {
  segno: { kind: "segno" },
  "𝄋": { kind: "segno" },
  "§": { kind: "segno" },
  fine: { kind: "fine" },
  fin: { kind: "fine" },
  coda: { kind: "coda" },
  "𝄌": { kind: "coda" },
  dacoda: { kind: "to coda" },
  "to coda": { kind: "to coda" },
  "al coda": { kind: "to coda" },
};

const JUMP =
  /^(d\.? ?c\.?|da ?capo|d\.? ?s\.?|dal ?segno|da ?segno)( ?al(la)? ?(fine|coda|segno).*| ?e poi .*|)$/;

/**
 * A decoration's name (ABC 2.1, 4.14: "D.C.", "dacapo", "D.S.alcoda" ...) or a text over the staff ("D.C. al Fine", "Fine").
 *
 * @returns null for anything else
 */
export function waySign(words: string): WaySign | null {
  const plain = words
    .replace(/^[\^_<>@](-?\d+(\.\d+)?,-?\d+(\.\d+)?)?/, "")
    .trim()
    .toLowerCase()
    .replace(/\s+/g, " ")
    .replace(/^[([](.*)[)\]]$/, "$1");
  const sign = ownRow(PLAIN, plain.replace(/[.!]$/, ""));
  if (sign !== undefined) return sign;
  const jump = JUMP.exec(plain);
  if (jump === null) return null;
  const [, from = "", , , until = ""] = jump;
  return {
    kind: "jump",
    jump: {
      to: /^d\.? ?c|^da ?capo/.test(from) ? "beginning" : "segno",
      until: until === "fine" || until === "coda" ? until : "end",
    },
  };
}

const CHORD_SYMBOL =
  /^\(?[A-G](#|b|♯|♭|=)?((maj|min|m|M|dim|aug|sus|add|alt|omit|no|\+|-|°|o|ø|Δ|b|#|\/?\d|,)*)(\([^)]*\))?(\/[A-Ga-g](#|b|♯|♭)?)?\)?\.?$/;

/** Whether a text over the staff is a chord symbol (ABC 2.1, 4.18): "Am7", "D/F#", "(G)", "N.C.". */
export function isChordSymbol(text: string): boolean {
  return CHORD_SYMBOL.test(text.trim()) || /^n\.?c\.?$/i.test(text.trim());
}
