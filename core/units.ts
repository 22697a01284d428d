/** Branded numbers: the unit of a value is part of its type wherever it crosses a border between rooms. */
declare const unit: unique symbol;

/** Frequency in hertz, > 0. */
export type Hz = number & { readonly [unit]: "Hz" };
/** Hundredths of an equal-tempered semitone; positive is sharp. */
export type Cents = number & { readonly [unit]: "Cents" };
/** Sounding time in seconds; an error in seconds is positive when late. */
export type Seconds = number & { readonly [unit]: "Seconds" };
/** A thousandth of a second: only where a mark is shown or stored. */
export type Milliseconds = number & { readonly [unit]: "Milliseconds" };
/** Written time, counted in the tempo's note value. */
export type Beats = number & { readonly [unit]: "Beats" };
/** Written time of a tune, 161,280 to the semibreve: see `core/tune/tune.ts`. */
export type Ticks = number & { readonly [unit]: "Ticks" };
/** Beats in a minute. */
export type Bpm = number & { readonly [unit]: "Bpm" };
/** Equal-tempered semitones; whole for written notes. */
export type Semitones = number & { readonly [unit]: "Semitones" };
/** MIDI key number, C4 = 60, A4 = 69; fractional where a heard pitch is meant. */
export type Midi = number & { readonly [unit]: "Midi" };
/** Level in decibels re full scale: 20 log10 of the RMS of samples in -1..1. */
export type Dbfs = number & { readonly [unit]: "Dbfs" };

export const hz = (value: number): Hz => value as Hz;
export const cents = (value: number): Cents => value as Cents;
export const seconds = (value: number): Seconds => value as Seconds;
export const milliseconds = (value: number): Milliseconds => value as Milliseconds;
export const beats = (value: number): Beats => value as Beats;
export const ticks = (value: number): Ticks => value as Ticks;
export const bpm = (value: number): Bpm => value as Bpm;
export const semitones = (value: number): Semitones => value as Semitones;
export const midi = (value: number): Midi => value as Midi;
export const dbfs = (value: number): Dbfs => value as Dbfs;
