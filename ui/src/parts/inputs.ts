/** Inputs by section, and typed text read as a value of the right type. */
import type { FaultAt, Input, InputValue } from '../api/types';
import { say } from '../text/words';

/** Sections that can be opened from the view of the plant, in the order in which power and water flow. */
export const SECTIONS = [
  'array',
  'inverter',
  'drive',
  'pump',
  'motor',
  'well',
  'pipe',
  'tank',
  'demand',
  'grid',
  'battery',
  'generator',
  'money',
] as const;

/** Values that have a slider if the plant has them. */
export const SLIDERS = [
  'array.strings',
  'array.tilt_deg',
  'drive.greatest_frequency_hz',
  'tank.capacity_m3',
  'grid.export_credit_per_kwh',
  'grid.random.share_pct',
  'battery.capacity_kwh',
] as const;

/** The last part of an input's keys, as it is written in the file. */
export const keyOf = (input: Input): string => input.keys.slice(input.keys.lastIndexOf('.') + 1);

/** The path that faults use for an input. */
export const pathOf = (input: Input): string =>
  input.section ? `${input.section}.${keyOf(input)}` : keyOf(input);

/** Where a value came from: its place in a file or the source of its default, then date and note of its mark. */
export const provenanceOf = (input: Input): string =>
  [input.source, input.date, input.note].filter(Boolean).join(', ');

/** The section without numbers and what is below it: `pipe` of `pipe[2]`, `tariff` of `tariff.season[1]`. */
export const familyOf = (section: string): string => section.split(/[.[]/)[0] ?? '';

/** A name of a section for a heading: `pipe 2`. */
export const sectionName = (section: string): string =>
  section.replaceAll('_', ' ').replaceAll('.', ', ').replaceAll('[', ' ').replaceAll(']', '');

export interface Group {
  section: string;
  file: string;
  inputs: Input[];
}

/** Inputs in groups of one section of one file, in the order of the files. */
export function grouped(inputs: readonly Input[]): Group[] {
  const groups: Group[] = [];
  for (const input of inputs) {
    const group = groups.find((g) => g.section === input.section && g.file === input.file);
    if (group) group.inputs.push(input);
    else groups.push({ section: input.section, file: input.file, inputs: [input] });
  }
  return groups;
}

/** Inputs of a family of sections (all sections for an empty family) that contain every word of the search. */
export function found(
  inputs: readonly Input[],
  family: string,
  sought: string,
  notConfirmedOnly: boolean,
): Input[] {
  const words = sought.toLowerCase().split(/\s+/).filter(Boolean);
  return inputs.filter((input) => {
    const text = `${input.quantity} ${pathOf(input)}`.toLowerCase();
    return (
      (family === '' || familyOf(input.section) === familyOf(family)) &&
      (!notConfirmedOnly || input.not_confirmed) &&
      words.every((word) => text.includes(word))
    );
  });
}

/** The faults of an input. */
export function faultsAt(input: Input, faults: readonly FaultAt[]): FaultAt[] {
  return faults.filter((fault) => fault.file === input.file && fault.path === pathOf(input));
}

/** The faults at places that have no field on the page, such as a key that the file lacks. */
export function faultsWithoutField(inputs: readonly Input[], faults: readonly FaultAt[]): FaultAt[] {
  return faults.filter((fault) => !inputs.some((input) => faultsAt(input, [fault]).length > 0));
}

/** A fault in words. */
export function faultInWords({ quantity, given, allowed, remedy }: FaultAt): string {
  return allowed
    ? say('faults-one', { quantity, given, allowed, remedy })
    : say('faults-one-short', { quantity, given, remedy });
}

/** Numbers in a year's list of months. */
const MONTHS = 12;

/** Numbers in a day's list of hours. */
const HOURS = 24;

const numberOf = (text: string): number => (text.trim() === '' ? NaN : Number(text.trim().replace(',', '.')));

/** Reads typed text as a value of the kind that the input takes; null if it cannot be read as one. */
export function read(typed: string, { kind, length }: Pick<Input, 'kind' | 'length'>): InputValue | null {
  switch (kind) {
    case 'number':
      return finite(numberOf(typed));
    case 'numbers':
      return listOf(typed, length ?? null);
    case 'number-or-months':
      return finite(numberOf(typed)) ?? listOf(typed, MONTHS);
    case 'number-or-hours':
      return finite(numberOf(typed)) ?? listOf(typed, HOURS);
    case 'windows':
      return windowsOf(typed);
    case 'yes-no':
      return typed === 'true' ? true : typed === 'false' ? false : null;
    case 'choice':
    case 'file':
    case 'text':
      return typed;
  }
}

const finite = (number: number): number | null => (Number.isFinite(number) ? number : null);

/** Numbers separated by commas, semicolons or blanks: as many as required, or at least one. */
function listOf(typed: string, length: number | null): number[] | null {
  const numbers = typed
    .split(/[,;\s]+/)
    .filter(Boolean)
    .map(Number);
  const isWhole = length === null ? numbers.length > 0 : numbers.length === length;
  return isWhole && numbers.every(Number.isFinite) ? numbers : null;
}

/** One window of two hours, or two windows: two numbers or four. */
function windowsOf(typed: string): InputValue | null {
  const four = listOf(typed, 4);
  return four ? [four.slice(0, 2), four.slice(2)] : listOf(typed, 2);
}

/** A value as text; empty if there is none. Several lists are separated by semicolons. */
export function written(value: InputValue | null): string {
  if (value === null) return '';
  if (typeof value === 'boolean') return say(value ? 'inputs-yes' : 'inputs-no');
  if (!Array.isArray(value)) return String(value);
  const list = (item: number | readonly number[]): string =>
    Array.isArray(item) ? item.join(', ') : String(item);
  return value.map(list).join(value.some(Array.isArray) ? '; ' : ', ');
}

/** How to type a list; empty for a single number or a text. */
export function howToType({ kind, length, value }: Input): string {
  if (kind === 'number-or-months') return say('inputs-one-or-months', { values: MONTHS });
  if (kind === 'number-or-hours') return say('inputs-one-or-hours', { values: HOURS });
  if (kind === 'windows') return say('inputs-windows');
  const values = length ?? (Array.isArray(value) ? value.length : 0);
  return kind === 'numbers' && values > 0 ? say('inputs-list', { values }) : '';
}

/** What is wrong with a text that `read` does not take. */
export function notRead({ kind, length }: Input): string {
  if (kind === 'number-or-months') return say('inputs-not-one-or-months', { values: MONTHS });
  if (kind === 'number-or-hours') return say('inputs-not-one-or-months', { values: HOURS });
  if (kind === 'windows') return say('inputs-not-windows');
  if (kind !== 'numbers') return say('inputs-not-a-number');
  return length ? say('inputs-not-so-many', { values: length }) : say('inputs-not-numbers');
}

export interface Reach {
  least: number;
  greatest: number;
  step: number;
}

/**
 * Values that a slider offers, in round steps within the allowed range: from a quarter of the value to four times the
 * value; for a speed from 0.6 to 1.2 times the value.
 */
export function reachOf(input: Input, value: number): Reach | null {
  const { range } = input;
  if (!range) return null;
  const small = input.unit === '°' || input.unit === '%';
  // A pump cannot run at four times its speed, so the range of a speed is narrower.
  const [down, up] = input.unit === 'Hz' ? [0.6, 1.2] : [0.25, 4];
  const least = Math.max(range.least, small ? range.least : value * down);
  const greatest = Math.min(
    range.greatest,
    small ? Math.min(range.greatest, 90) : Math.max(value * up, value + 1e-9),
  );
  if (!(greatest > least)) return null;
  const raw = (greatest - least) / 200;
  const ten = 10 ** Math.floor(Math.log10(raw));
  const round = ([1, 2, 5, 10].find((n) => n * ten >= raw) ?? 10) * ten;
  const step = range.whole ? Math.max(1, Math.round(round)) : Number(round.toPrecision(1));
  const grid = (x: number, to: (n: number) => number) => Number((to(x / step) * step).toPrecision(12));
  return {
    least: Math.max(range.least, grid(least, Math.floor)),
    greatest: grid(greatest, Math.floor),
    step,
  };
}
