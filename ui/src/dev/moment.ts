/** A moment in which nothing flows, as a start for fixtures and tests. */
import type { Moment } from '../api/types';

/** A moment that can be changed. */
export type Draft = { -readonly [K in keyof Moment]: Moment[K] };

export const none: Draft = {
  start_s: 0,
  length_s: 0,
  utility: true,
  array_on: 'inverter',
  pump_on: 'nothing',
  available_kw: 0,
  array_to_pump_kw: 0,
  array_to_loads_kw: 0,
  array_to_battery_kw: 0,
  exported_kw: 0,
  lost_kw: 0,
  main_loss: null,
  imported_kw: 0,
  grid_to_pump_kw: 0,
  grid_to_loads_kw: 0,
  battery_kw: 0,
  battery_to_pump_kw: 0,
  battery_to_loads_kw: 0,
  battery_kwh: 0,
  generator_kw: 0,
  generator_to_pump_kw: 0,
  generator_to_loads_kw: 0,
  load_kw: 0,
  unserved_kw: 0,
  pumped_m3_h: 0,
  demand_m3_h: 0,
  delivered_m3_h: 0,
  tank_m3: 0,
  hz: 0,
  level_m: null,
};
