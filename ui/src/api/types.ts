/** What the server answers, as `openapi.json` describes it. Powers in kW, energies in kWh, flows in m³/h. */

/** What flows during a stretch of the day in which nothing changes. */
export interface Moment {
  /** Begin and length, in s from the begin of the civil day. */
  start_s: number;
  length_s: number;
  /** Whether the utility is there. */
  utility: boolean;
  /** Where the array is switched: to the inverter, to the drive, to both (groups parted), or to neither. */
  array_on: 'inverter' | 'drive' | 'both' | 'neither';
  /** What turns the pump: nothing, the mains or bus, the drive. */
  pump_on: 'nothing' | 'bus' | 'drive';
  available_kw: number;
  array_to_pump_kw: number;
  array_to_loads_kw: number;
  array_to_battery_kw: number;
  exported_kw: number;
  lost_kw: number;
  /** The cause that loses most, e.g. `water-not-wanted`. */
  main_loss: string | null;
  imported_kw: number;
  grid_to_pump_kw: number;
  grid_to_loads_kw: number;
  /** At the battery's terminals: out of it above 0, into it below. */
  battery_kw: number;
  battery_to_pump_kw: number;
  battery_to_loads_kw: number;
  /** Content at the end. */
  battery_kwh: number;
  generator_kw: number;
  generator_to_pump_kw: number;
  generator_to_loads_kw: number;
  load_kw: number;
  unserved_kw: number;
  pumped_m3_h: number;
  demand_m3_h: number;
  delivered_m3_h: number;
  /** Content at the end. */
  tank_m3: number;
  /** Frequency of the drive; 0 when it stands. */
  hz: number;
  /** Water level in the well below the well head, in m; null with several wells. */
  level_m: number | null;
}

/** A day of an arrangement. */
export interface Day {
  arrangement: string;
  /** Day of the year from 0. */
  day: number;
  /** ISO date in the plant's civil time. */
  date: string;
  length_s: number;
  moments: readonly Moment[];
  /** Tank content at the begin, in m³. */
  tank_at_begin_m3: number;
}

/** What stands where, for the picture. */
export interface Picture {
  array_kwp: number | null;
  inverter_kw: number | null;
  drive_kw: number | null;
  pump_kw: number;
  pumps: number;
  /** Depths below the well head, in m; of the first set. */
  standing_level_m: readonly number[];
  intake_depth_m: number;
  /** Outlet above the well head, in m. */
  outlet_lift_m: number;
  /** Content of the tank of each arrangement, and its marks as shares. */
  tank_m3: number;
  tank_restart: number;
  tank_low_mark: number;
  battery_kwh: number | null;
  generator_kw: number | null;
  has_loads: boolean;
  has_grid: boolean;
}
