import { describe, expect, it } from 'vitest';
import type { Input } from '../api/types';
import {
  familyOf,
  faultsAt,
  found,
  grouped,
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
  value: 1,
  state: 'given',
  source: '',
  range: { least: 0, greatest: 1000, whole: false, reason: '' },
  choices: [],
  names_file: false,
  ...change,
});

describe('inputs', () => {
  const bore = input('pipe[2]', 'pipe[2].bore_mm');
  const power = input('motor', 'rated_power_kw', { file: 'motor.toml', state: 'default' });

  it('stand in groups and are found by words', () => {
    expect(grouped([bore, power, input('pipe[2]', 'pipe[2].length_m')]).map((g) => g.inputs.length)).toEqual([
      2, 1,
    ]);
    expect(found([bore, power], 'pipe', '', false)).toEqual([bore]);
    expect(found([bore, power], '', 'power RATED', false)).toEqual([power]);
    expect(found([bore, power], '', '', true)).toEqual([power]);
  });

  it('say where they came from, with date and note where a mark has them', () => {
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

  it('are named as faults name them', () => {
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

  it('are read as they are typed', () => {
    expect(read('12.5', 1)).toBe(12.5);
    expect(read('12,5', 1)).toBe(12.5);
    expect(read('', 1)).toBeNull();
    expect(read('many', 1)).toBeNull();
    expect(read('1, 2; 3', [0])).toEqual([1, 2, 3]);
    expect(read(written([1, 2.5]), [0])).toEqual([1, 2.5]);
    expect(read('blend', 'switch')).toBe('blend');
  });
});

describe('a slider', () => {
  it('offers values around the one that is there, in round steps', () => {
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

  it('keeps a speed to where a pump turns', () => {
    const range = { least: 30, greatest: 120, whole: false, reason: '' };
    const reach = reachOf(input('drive', 'drive.greatest_frequency_hz', { unit: 'Hz', range }), 50);
    expect(reach).toMatchObject({ least: 30, greatest: 60 });
  });

  it('never leaves what is allowed', () => {
    const narrow = { least: 150, greatest: 170, whole: false, reason: '' };
    const reach = reachOf(input('tank', 'x', { range: narrow }), 165)!;
    expect(reach.least).toBeGreaterThanOrEqual(150);
    expect(reach.greatest).toBeLessThanOrEqual(170);
  });
});
