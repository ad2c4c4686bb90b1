/** Inputs by section, and what a reader types read as a value. */
import type { FaultAt, Input, InputValue } from '../api/types';

/** Sections that the view of the plant leads to, in the order in which power and water flow. */
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

/** Values that have a slider, where the plant has them. */
export const SLIDERS = [
  'array.strings',
  'array.tilt_deg',
  'drive.greatest_frequency_hz',
  'tank.capacity_m3',
  'grid.export_credit_per_kwh',
  'grid.random.share_pct',
  'battery.capacity_kwh',
] as const;

/** The last part of an input's keys, as it stands in the file. */
export const keyOf = (input: Input): string => input.keys.slice(input.keys.lastIndexOf('.') + 1);

/** The path by which faults name an input. */
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

/** States of a value that nobody has confirmed. */
const unconfirmed = new Set(['default', 'generic', 'assumed']);

/** Inputs of a family of sections (all for an empty one) in whose words the text sought occurs. */
export function found(
  inputs: readonly Input[],
  family: string,
  sought: string,
  assumedOnly: boolean,
): Input[] {
  const words = sought.toLowerCase().split(/\s+/).filter(Boolean);
  return inputs.filter((input) => {
    const text = `${input.quantity} ${pathOf(input)}`.toLowerCase();
    return (
      (family === '' || familyOf(input.section) === familyOf(family)) &&
      (!assumedOnly || unconfirmed.has(input.state)) &&
      words.every((word) => text.includes(word))
    );
  });
}

/** Faults that stand at an input. */
export function faultsAt(input: Input, faults: readonly FaultAt[]): FaultAt[] {
  return faults.filter((fault) => fault.file === input.file && fault.path === pathOf(input));
}

/** What was typed as a value like the one before; null when it is no number where one is wanted. */
export function read(typed: string, before: InputValue): InputValue | null {
  if (typeof before === 'string') return typed;
  const parts = Array.isArray(before) ? typed.split(/[,;\s]+/).filter(Boolean) : [typed.trim()];
  const numbers = parts.map((part) => (part === '' ? NaN : Number(part.replace(',', '.'))));
  if (numbers.length === 0 || !numbers.every(Number.isFinite)) return null;
  return Array.isArray(before) ? numbers : (numbers[0] ?? null);
}

/** A value as it stands in the box in which it is typed. */
export function written(value: InputValue): string {
  return Array.isArray(value) ? value.join(', ') : String(value);
}

export interface Reach {
  least: number;
  greatest: number;
  step: number;
}

/** Values that a slider offers: from a quarter of the value to four times it (a speed from three fifths to six), within what is allowed, in round steps. */
export function reachOf(input: Input, value: number): Reach | null {
  const { range } = input;
  if (!range) return null;
  const small = input.unit === '°' || input.unit === '%';
  // A speed is changed by a part of itself: at four times it nothing turns.
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
