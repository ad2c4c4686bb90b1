import { describe, expect, it } from 'vitest';
import type { Input } from '../api/types';
import {
  familyOf,
  faultsAt,
  found,
  grouped,
  howToType,
  notRead,
  pathOf,
  provenanceOf,
  reachOf,
  read,
  sectionName,
  written,
} from './inputs';

const input = (section: string, keys: string, change: Partial<Input> = {}): Input => ({
  file: 'plant.toml',
  keys,
  section,
  quantity: keys,
  unit: 'm',
  kind: 'number',
  length: null,
  value: 1,
  has_default: false,
  rule: null,
  state: 'given',
  not_confirmed: false,
  source: '',
  range: { least: 0, greatest: 1000, whole: false, reason: '' },
  choices: [],
  ...change,
});

describe('inputs', () => {
  const bore = input('pipe[2]', 'pipe[2].bore_mm');
  const power = input('motor', 'rated_power_kw', { file: 'motor.toml', not_confirmed: true });

  it('are in groups and found by words', () => {
    expect(grouped([bore, power, input('pipe[2]', 'pipe[2].length_m')]).map((g) => g.inputs.length)).toEqual([
      2, 1,
    ]);
    expect(found([bore, power], 'pipe', '', false)).toEqual([bore]);
    expect(found([bore, power], '', 'power RATED', false)).toEqual([power]);
    expect(found([bore, power], '', '', true)).toEqual([power]);
  });

  it('say where they came from, with date and note if a mark has them', () => {
    const given = { source: 'plant.toml, line 50' };
    expect(provenanceOf(input('well', 'well.intake_depth_m', given))).toBe('plant.toml, line 50');
    const marked = { ...given, state: 'confirmed', date: '2026-11-30', note: 'dip tape' };
    expect(provenanceOf(input('well', 'well.intake_depth_m', marked))).toBe(
      'plant.toml, line 50, 2026-11-30, dip tape',
    );
    expect(provenanceOf(input('well', 'well.intake_depth_m', { ...given, date: null, note: 'asked' }))).toBe(
      'plant.toml, line 50, asked',
    );
  });

  it('have the same names as in faults', () => {
    expect(pathOf(bore)).toBe('pipe[2].bore_mm');
    expect(pathOf(power)).toBe('motor.rated_power_kw');
    const fault = {
      file: 'motor.toml',
      line: 1,
      path: 'motor.rated_power_kw',
      quantity: '',
      given: '',
      allowed: '',
      remedy: '',
    };
    expect(faultsAt(power, [fault])).toHaveLength(1);
    expect(faultsAt({ ...power, file: 'motor-2.toml' }, [fault])).toHaveLength(0);
    expect(familyOf('tariff.season[1]')).toBe('tariff');
    expect(sectionName('tariff.season[1]')).toBe('tariff, season 1');
  });

  it('are read as the kind of value that they take, whatever the current value is', () => {
    const of = (kind: Input['kind'], length: number | null = null) => ({ kind, length });
    expect(read('12.5', of('number'))).toBe(12.5);
    expect(read('12,5', of('number'))).toBe(12.5);
    expect(read('', of('number'))).toBeNull();
    expect(read('many', of('number'))).toBeNull();
    expect(read('1, 2', of('number'))).toBeNull();
    expect(read('1, 2; 3', of('numbers'))).toEqual([1, 2, 3]);
    expect(read('7', of('numbers'))).toEqual([7]);
    expect(read('6, 18', of('numbers', 2))).toEqual([6, 18]);
    expect(read('6', of('numbers', 2))).toBeNull();
    expect(read('', of('numbers'))).toBeNull();
    expect(read('1, x', of('numbers'))).toBeNull();
    expect(read('12,5', of('number-or-months'))).toBe(12.5);
    expect(read('1 2 3 4 5 6 7 8 9 10 11 12', of('number-or-months'))).toHaveLength(12);
    expect(read('1, 2, 3', of('number-or-months'))).toBeNull();
    expect(read('70', of('number-or-hours'))).toBe(70);
    expect(read('1 2 3 4 5 6 7 8 9 10 11 12', of('number-or-hours'))).toBeNull();
    expect(read('22, 6', of('windows'))).toEqual([22, 6]);
    expect(read('22, 6; 10, 15', of('windows'))).toEqual([
      [22, 6],
      [10, 15],
    ]);
    expect(read('22, 6, 10', of('windows'))).toBeNull();
    expect(read('true', of('yes-no'))).toBe(true);
    expect(read('false', of('yes-no'))).toBe(false);
    expect(read('blend', of('choice'))).toBe('blend');
    expect(read('7', of('text'))).toBe('7');
    expect(read('2026.csv', of('file'))).toBe('2026.csv');
  });

  it('are shown as they are typed', () => {
    expect(read(written([1, 2.5]), { kind: 'numbers', length: 2 })).toEqual([1, 2.5]);
    const windows = [
      [22, 6],
      [10, 15],
    ];
    expect(written(windows)).toBe('22, 6; 10, 15');
    expect(read(written(windows), { kind: 'windows', length: null })).toEqual(windows);
    expect(written(null)).toBe('');
    expect([written(true), written(false)]).toEqual(['yes', 'no']);
  });

  it('say how to type a list, and what is wrong with a text that is not one', () => {
    const hours = input('demand', 'demand.hour_share', { kind: 'numbers', length: 24, value: null });
    expect(howToType(hours)).toBe('24 values, separated by commas');
    expect(notRead(hours)).toContain('24 numbers');
    expect(howToType(input('demand', 'demand.daily_m3', { kind: 'number-or-months' }))).toContain('12');
    expect(howToType(bore)).toBe('');
    expect(notRead(bore)).toBe('Enter a number.');
  });
});

describe('a slider', () => {
  it('offers values around the current one, in round steps', () => {
    expect(reachOf(input('tank', 'tank.capacity_m3'), 165)).toEqual({ least: 40, greatest: 660, step: 5 });
    const whole = { least: 1, greatest: 10_000, whole: true, reason: '' };
    expect(reachOf(input('array', 'array.strings', { range: whole }), 3)).toEqual({
      least: 1,
      greatest: 12,
      step: 1,
    });
    expect(
      reachOf(
        input('array', 'array.tilt_deg', {
          unit: '°',
          range: { ...whole, least: 0, greatest: 90, whole: false },
        }),
        18,
      ),
    ).toMatchObject({ least: 0, greatest: 90 });
  });

  it('limits a speed to the range of a pump', () => {
    const range = { least: 30, greatest: 120, whole: false, reason: '' };
    const reach = reachOf(input('drive', 'drive.greatest_frequency_hz', { unit: 'Hz', range }), 50);
    expect(reach).toMatchObject({ least: 30, greatest: 60 });
  });

  it('stays within the allowed range', () => {
    const narrow = { least: 150, greatest: 170, whole: false, reason: '' };
    const reach = reachOf(input('tank', 'x', { range: narrow }), 165)!;
    expect(reach.least).toBeGreaterThanOrEqual(150);
    expect(reach.greatest).toBeLessThanOrEqual(170);
  });
});
