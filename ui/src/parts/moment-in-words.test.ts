import { plant } from '../dev/fixtures';
import { none } from '../dev/moment';
import { describe, expect, it } from 'vitest';
import type { Moment, Picture } from '../api/types';
import { makeFormat } from '../text/format';
import { momentInWords, tankTrend } from './moment-in-words';

/** The plant of the harness, with the standing level in whole metres. */
const picture: Picture = { ...plant, standing_level_m: [45, 43, 42, 41, 41, 42, 43, 44, 45, 46, 46, 46] };

const still: Moment = {
  ...none,
  start_s: 37_200,
  length_s: 600,
  tank_m3: 82.4,
  level_m: 45,
};

function words(
  changes: Partial<Moment>,
  plant: Partial<Picture> = {},
  tankAtBegin: number | null = null,
): string {
  const said = momentInWords({ ...picture, ...plant }, { ...still, ...changes }, { tankAtBegin });
  return said.replaceAll('\u00a0', ' ');
}

const onDrive: Partial<Moment> = {
  utility: false,
  array_on: 'drive',
  pump_on: 'drive',
  available_kw: 14.1,
  array_to_pump_kw: 8.2,
  lost_kw: 5.9,
  main_loss: 'pump-at-full-speed',
  hz: 43.2,
  pumped_m3_h: 12.3,
  level_m: 49.2,
  load_kw: 4,
  unserved_kw: 4,
};

describe('a moment in words', () => {
  it('describes an outage at noon', () => {
    expect(words({ ...onDrive, demand_m3_h: 10, delivered_m3_h: 10 })).toBe(
      '10:20. The grid is down. The array feeds the drive: 8.2 kW of 14.1 kW. ' +
        '5.9 kW is not used: the pump runs at full speed. ' +
        'The pump runs at 43 Hz and pumps 12.3 m³/h from a depth of 49 m. ' +
        'The tank holds 82 m³ (50 % full) and is rising. The field gets 10.0 m³/h. The loads have no power; they need 4.0 kW.',
    );
  });

  it('describes export to the grid, and what runs the pump', () => {
    const said = words({
      pump_on: 'bus',
      available_kw: 14.1,
      array_to_pump_kw: 9,
      exported_kw: 4.7,
      lost_kw: 0.4,
      main_loss: 'inverter-conversion',
      pumped_m3_h: 15,
    });
    expect(said).toContain('The grid is on; 4.7 kW is exported.');
    expect(said).toContain('The array feeds the inverter: 13.7 kW of 14.1 kW. The pump runs on sun');
    expect(said).not.toContain('not used');
  });

  it('names the larger source of the pump first', () => {
    const said = words({
      pump_on: 'bus',
      available_kw: 3,
      array_to_pump_kw: 3,
      grid_to_pump_kw: 6,
      imported_kw: 6,
    });
    expect(said).toContain('The array feeds the inverter: 3.0 kW. The pump runs on grid and sun and pumps');
  });

  it('distinguishes a changeover from an idle array', () => {
    const between: Partial<Moment> = {
      utility: false,
      array_on: 'neither',
      available_kw: 14.1,
      lost_kw: 14.1,
    };
    expect(words({ ...between, main_loss: 'changeover' })).toContain(
      'being switched over; 14.1 kW is not used meanwhile',
    );
    expect(words({ ...between, main_loss: 'water-not-wanted' })).toContain('connected to nothing');
  });

  it('says why no power is used', () => {
    const said = words({ available_kw: 14.1, lost_kw: 14.1, main_loss: 'water-not-wanted', tank_m3: 165 });
    expect(said).toContain(
      'The array could supply 14.1 kW; none is used: no water is wanted. The pump does not run.',
    );
    expect(said).toContain('The tank is full.');
  });

  it('keeps an unknown cause in the words of the program', () => {
    expect(words({ available_kw: 5, lost_kw: 5, main_loss: 'new-cause' })).toContain(
      'none is used: new-cause.',
    );
  });

  it('leaves out what the plant does not have', () => {
    const said = words(
      { load_kw: 3 },
      { array_kwp: null, inverter_kw: null, drive_kw: null, has_grid: false, has_loads: false },
    );
    expect(said).toBe(
      '10:20. The pump does not run. The tank holds 82 m³ (50 % full). The field needs no water.',
    );
  });

  it('describes battery and generator', () => {
    const plant = { battery_kwh: 40, generator_kw: 30 };
    expect(words({ battery_kw: -3, battery_kwh: 22 }, plant)).toContain(
      'The battery charges at 3.0 kW and holds 22.0 kWh.',
    );
    expect(words({ battery_kw: 5, battery_kwh: 22 }, plant)).toContain('The battery discharges at 5.0 kW');
    expect(words({ generator_kw: 12 }, plant)).toContain('The generator supplies 12.0 kW.');
  });

  it('uses the plural for several pumps', () => {
    expect(words(onDrive, { pumps: 2 })).toContain('The 2 pumps run at 43 Hz and pump 12.3 m³/h');
  });

  it('describes a field that lacks water', () => {
    expect(words({ demand_m3_h: 9, delivered_m3_h: 0 })).toContain(
      'The field gets no water; its demand is 9.0 m³/h.',
    );
    expect(words({ demand_m3_h: 9, delivered_m3_h: 4 })).toContain(
      'The field gets 4.0 m³/h of its demand of 9.0 m³/h.',
    );
    expect(words({ tank_m3: 20 })).toContain('below its low mark');
  });

  it('uses the units that the user chose', () => {
    const said = momentInWords(picture, { ...still, ...onDrive }, { format: makeFormat({ flow: 'l/s' }) });
    expect(said.replaceAll('\u00a0', ' ')).toContain('pumps 3.4 l/s');
  });
});

describe('the trend of the tank', () => {
  it('follows the content at the beginning if that is known', () => {
    expect(tankTrend({ ...still, pumped_m3_h: 5, tank_m3: 80 }, 81)).toBe(-1);
    expect(tankTrend({ ...still, pumped_m3_h: 5, tank_m3: 80 }, null)).toBe(1);
    expect(tankTrend(still, 82.4)).toBe(0);
  });
});
