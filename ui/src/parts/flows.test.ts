import { describe, expect, it } from 'vitest';
import { fixtures } from '../dev/fixtures';
import type { Moment } from '../api/types';
import { flowsOf, isSwitching } from './flows';

const base: Moment = {
  ...fixtures.dual!.day.moments[0]!,
  utility: true,
  array_on: 'inverter',
  pump_on: 'bus',
  array_to_pump_kw: 6,
  array_to_loads_kw: 2,
  array_to_battery_kw: 0,
  exported_kw: 3,
  imported_kw: 0,
  grid_to_pump_kw: 0,
  grid_to_loads_kw: 1,
  battery_kw: 0,
};

describe('the flow on the lines', () => {
  it('goes through the inverter while the array is on it', () => {
    const flows = flowsOf(base);
    expect(flows.arrayToInverter.kw).toBe(11);
    expect(flows.arrayToDrive.kw).toBe(0);
    expect(flows.busToPump.parts).toEqual([{ source: 'sun', kw: 6 }]);
    expect(flows.gridToBus).toEqual({ parts: [{ source: 'sun', kw: 3 }], kw: 3, back: true });
    expect(flows.busToFarm.kw).toBe(3);
  });
  it('splits the string groups: the pump through the drive, the rest through the inverter', () => {
    const flows = flowsOf({ ...base, array_on: 'both', pump_on: 'drive' });
    expect(flows.arrayToDrive.kw).toBe(6);
    expect(flows.arrayToInverter.kw).toBe(5);
    expect(flows.busToPump.kw).toBe(0);
    expect(flows.driveToPump.kw).toBe(6);
  });
  it('brings mains to the second input of a drive', () => {
    const flows = flowsOf({
      ...base,
      array_on: 'drive',
      pump_on: 'drive',
      exported_kw: 0,
      array_to_loads_kw: 0,
      grid_to_pump_kw: 4,
    });
    expect(flows.busToDrive.parts).toEqual([{ source: 'grid', kw: 4 }]);
    expect(flows.driveToPump.kw).toBe(10);
  });
  it('charges a battery from the array first', () => {
    const flows = flowsOf({ ...base, array_to_battery_kw: 2, battery_kw: -5 });
    expect(flows.batteryToBus).toEqual({
      parts: [
        { source: 'sun', kw: 2 },
        { source: 'grid', kw: 3 },
      ],
      kw: 5,
      back: true,
    });
  });
  it('recognizes a plant that is changing over', () => {
    const open: Moment = { ...base, array_on: 'neither' };
    expect(isSwitching(open, fixtures.dual!.picture)).toBe(true);
    expect(isSwitching(open, fixtures.battery!.picture)).toBe(false);
  });
});
