/** The traits of arrangements, for fixtures and tests. */
import type { Traits } from '../api/types';

/** The traits of mains alone, with the given changes. */
export function traits(has: Partial<Traits> = {}): Traits {
  return {
    wiring: 'grid-only',
    has_array: false,
    has_drive: false,
    has_inverter: false,
    has_battery: false,
    mains_on_drive: false,
    has_generator: false,
    bigger_tank: false,
    needs_grid: true,
    is_reference: false,
    ...has,
  };
}

export const solarDrive = traits({
  wiring: 'solar-drive',
  has_array: true,
  has_drive: true,
  needs_grid: false,
});
export const gridTied = traits({ wiring: 'grid-tied', has_array: true, has_inverter: true });
export const dualMode = traits({ wiring: 'dual-mode', has_array: true, has_drive: true, has_inverter: true });
export const batteryHybrid = traits({
  wiring: 'battery-hybrid',
  has_array: true,
  has_inverter: true,
  has_battery: true,
  needs_grid: false,
});
