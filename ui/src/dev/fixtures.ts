/**
 * Invented days for looking at the parts, from a simple formula and not from the program. They balance roughly (used
 * and lost energy add up to the available energy); nothing here is a result.
 */
import { none, type Draft } from './moment';
import { batteryHybrid, dualMode } from './traits';
import type { Day, Picture } from '../api/types';

export interface Fixture {
  picture: Picture;
  day: Day;
  month: number;
}

interface Options {
  outages: [from_h: number, to_h: number][];
  tankBegin_m3: number;
  wanted_m3_h?: number;
  nightPumping?: boolean;
  picture?: Partial<Picture>;
}

export const plant: Picture = {
  array_kwp: 22.95,
  inverter_kw: 20,
  drive_kw: 15,
  pump_kw: 11,
  pumps: 1,
  standing_level_m: [45, 43.6, 42.2, 41.6, 41.9, 42.6, 43.4, 44.3, 45.2, 46.1, 46.8, 46.3],
  intake_depth_m: 78,
  outlet_lift_m: 28,
  outlet_pressure_bar: 0,
  tank_m3: 165,
  tank_restart: 0.9,
  tank_low_mark: 0.2,
  battery_kwh: null,
  generator_kw: null,
  has_loads: true,
  has_grid: true,
};

const STEP_S = 600;
const CHANGEOVER_S = 60;
const PUMP_KW = 9.6;
const CONVERSION = 0.04;

function sun_kw(hour: number, kwp: number): number {
  const height = Math.sin((Math.PI * (hour - 6)) / 12);
  const cloud = hour > 13 && hour < 15 ? 0.62 + 0.3 * Math.sin(9 * hour) : 1;
  return height <= 0 ? 0 : 0.86 * kwp * height ** 1.25 * cloud;
}

/** Shares power between the pump and the farm, from one source after another. */
function serve(m: Draft, picture: Picture, pumpWanted: boolean, battery_kwh: number): void {
  const sun = m.available_kw * (1 - CONVERSION);
  const need = pumpWanted ? PUMP_KW : 0;
  const island = !m.utility;
  const battery = island && picture.battery_kwh ? Math.min(30, battery_kwh > 5 ? 30 : 0) : 0;
  const generator = island && battery === 0 ? (picture.generator_kw ?? 0) : 0;
  const alive = !island || battery > 0 || generator > 0;
  const sunThere = alive && generator === 0 ? sun : 0;
  m.array_to_pump_kw = Math.min(sunThere, need);
  const restNeed = need - m.array_to_pump_kw;
  m.array_to_loads_kw = Math.min(sunThere - m.array_to_pump_kw, m.load_kw);
  const restLoad = m.load_kw - m.array_to_loads_kw;
  if (!island) [m.grid_to_pump_kw, m.grid_to_loads_kw] = [restNeed, restLoad];
  else if (battery > 0) [m.battery_to_pump_kw, m.battery_to_loads_kw] = [restNeed, restLoad];
  else if (generator > 0) [m.generator_to_pump_kw, m.generator_to_loads_kw] = [restNeed, restLoad];
  else m.unserved_kw = m.load_kw;
  m.pump_on = pumpWanted && alive ? 'bus' : 'nothing';
  m.imported_kw = m.grid_to_pump_kw + m.grid_to_loads_kw;
  m.generator_kw = m.generator_to_pump_kw + m.generator_to_loads_kw;
  const spare = Math.max(0, sunThere - m.array_to_pump_kw - m.array_to_loads_kw);
  const room = (picture.battery_kwh ?? 0) - battery_kwh;
  m.array_to_battery_kw = room > 0.2 ? Math.min(15, spare, room * 6) : 0;
  m.exported_kw = island ? 0 : Math.min(8, spare - m.array_to_battery_kw);
  m.battery_kw = m.battery_to_pump_kw + m.battery_to_loads_kw - m.array_to_battery_kw;
  m.main_loss = island ? (alive && generator === 0 ? 'battery-limit' : 'grid-down') : 'export-limit';
  m.array_on = generator > 0 ? 'neither' : 'inverter';
}

function onDrive(m: Draft, pumpWanted: boolean): void {
  m.array_on = 'drive';
  m.unserved_kw = m.load_kw;
  const power = Math.min(PUMP_KW, m.available_kw * (1 - CONVERSION));
  if (!pumpWanted || power < 2.6) {
    m.main_loss = m.available_kw > 0 ? (pumpWanted ? 'below-start' : 'water-not-wanted') : null;
    return;
  }
  m.array_to_pump_kw = power;
  m.pump_on = 'drive';
  m.main_loss = power < PUMP_KW ? 'drive-conversion' : 'pump-at-full-speed';
  m.hz = 30 + (20 * (power - 2.6)) / (PUMP_KW - 2.6);
}

function edges(options: Options, dual: boolean): number[] {
  const all = new Set<number>();
  for (let s = 0; s <= 86_400; s += STEP_S) all.add(s);
  for (const h of options.outages.flat()) {
    all.add(Math.round(h * 3600));
    if (dual) all.add(Math.round(h * 3600) + CHANGEOVER_S);
  }
  return [...all].filter((s) => s <= 86_400).sort((a, b) => a - b);
}

export function makeFixture(date: string, month: number, options: Options): Fixture {
  const picture = { ...plant, ...options.picture };
  const dual = picture.drive_kw !== null && picture.inverter_kw !== null;
  const times = edges(options, dual);
  let tank = options.tankBegin_m3;
  let wanted = true;
  let battery_kwh = 0.55 * (picture.battery_kwh ?? 0);
  const moments: Draft[] = [];
  for (const [i, start_s] of times.slice(0, -1).entries()) {
    const length_s = (times[i + 1] ?? start_s) - start_s;
    const hour = (start_s + length_s / 2) / 3600;
    const utility = !options.outages.some(([from, to]) => hour > from && hour < to);
    const changing =
      dual &&
      options.outages.flat().some((h) => start_s === Math.round(h * 3600) && length_s <= CHANGEOVER_S);
    const m: Draft = {
      ...none,
      start_s,
      length_s,
      utility,
      available_kw: sun_kw(hour, picture.array_kwp ?? 0),
    };
    m.load_kw = picture.has_loads ? 2.4 + 2.2 * Math.exp(-(((hour - 13) / 4) ** 2)) : 0;
    m.demand_m3_h =
      (options.wanted_m3_h ?? 12) *
      (Math.exp(-(((hour - 7) / 2) ** 2)) + Math.exp(-(((hour - 17) / 2) ** 2)));
    wanted = tank < 0.9 * picture.tank_m3 || (wanted && tank < picture.tank_m3);
    const hours = (hour > 6 && hour < 18) || options.nightPumping === true;
    if (changing) {
      Object.assign(m, {
        array_on: 'neither',
        main_loss: 'changeover',
        unserved_kw: utility ? 0 : m.load_kw,
      });
      if (utility) [m.grid_to_loads_kw, m.imported_kw] = [m.load_kw, m.load_kw];
    } else if (!utility && dual) onDrive(m, wanted);
    else serve(m, picture, wanted && (hours || !utility), battery_kwh);
    finish(m, picture, month);
    const h = length_s / 3600;
    m.delivered_m3_h = Math.min(m.demand_m3_h, tank / h + m.pumped_m3_h);
    tank = Math.min(picture.tank_m3, tank + (m.pumped_m3_h - m.delivered_m3_h) * h);
    battery_kwh -= m.battery_kw * h;
    Object.assign(m, { tank_m3: tank, battery_kwh });
    moments.push(m);
  }
  const day: Day = {
    arrangement: dual ? 'dual-mode' : 'battery-hybrid',
    traits: dual ? dualMode : batteryHybrid,
    day: 100,
    date,
    month,
    is_short: false,
    length_s: 86_400,
    picture,
    moments,
    tank_at_begin_m3: options.tankBegin_m3,
  };
  return { picture, day, month };
}

function finish(m: Draft, picture: Picture, month: number): void {
  const pump = m.array_to_pump_kw + m.grid_to_pump_kw + m.battery_to_pump_kw + m.generator_to_pump_kw;
  m.pumped_m3_h = pump < 2.6 ? 0 : 17 * ((pump - 2) / (PUMP_KW - 2)) ** 0.6;
  m.level_m = (picture.standing_level_m[month] ?? 45) + 0.27 * m.pumped_m3_h + 0.0022 * m.pumped_m3_h ** 2;
  const used = m.array_to_pump_kw + m.array_to_loads_kw + m.array_to_battery_kw + m.exported_kw;
  m.lost_kw = Math.max(0, m.available_kw - used);
  if (m.lost_kw <= CONVERSION * m.available_kw + 0.01)
    m.main_loss = m.lost_kw > 0 ? 'inverter-conversion' : null;
}

export const fixtures: Record<string, Fixture> = {
  dual: makeFixture('2025-10-11', 9, {
    outages: [
      [4.5, 5.5],
      [10.2, 15.5],
      [19, 21.5],
    ],
    tankBegin_m3: 96,
  }),
  full: makeFixture('2025-02-03', 1, {
    outages: [[10.2, 15.5]],
    tankBegin_m3: 158,
    wanted_m3_h: 3,
    picture: { has_loads: false },
  }),
  night: makeFixture('2025-09-20', 8, { outages: [[1, 3]], tankBegin_m3: 30, nightPumping: true }),
  battery: makeFixture('2025-08-15', 7, {
    outages: [
      [10, 16],
      [18.5, 22],
    ],
    tankBegin_m3: 70,
    picture: { drive_kw: null, battery_kwh: 40 },
  }),
  generator: makeFixture('2025-08-15', 7, {
    outages: [
      [8, 11],
      [18.5, 22],
    ],
    tankBegin_m3: 24,
    picture: { generator_kw: 40, battery_kwh: 40, drive_kw: null },
  }),
  genset: makeFixture('2025-08-15', 7, {
    outages: [
      [8, 11],
      [18.5, 22],
    ],
    tankBegin_m3: 24,
    picture: { generator_kw: 40, drive_kw: null },
  }),
  gridOnly: makeFixture('2025-08-15', 7, {
    outages: [[8, 11]],
    tankBegin_m3: 60,
    nightPumping: true,
    picture: { array_kwp: null, drive_kw: null, inverter_kw: null },
  }),
  driveOnly: makeFixture('2025-08-15', 7, {
    outages: [[0, 24]],
    tankBegin_m3: 60,
    picture: {
      inverter_kw: null,
      has_grid: false,
      has_loads: false,
      outlet_lift_m: 6,
      outlet_pressure_bar: 0.3,
      intake_depth_m: 22,
      standing_level_m: Array(12).fill(9),
    },
  }),
};

/** The same day for a plant of another size: every power, flow and content times a factor. */
function scaled({ picture, day, month }: Fixture, factor: number, changes: Partial<Picture>): Fixture {
  const sized = /_(kw|kwp|kwh|m3|m3_h)$/;
  const grow = <T extends object>(of: T): T =>
    Object.fromEntries(
      Object.entries(of).map(([key, x]) => [key, sized.test(key) && typeof x === 'number' ? x * factor : x]),
    ) as T;
  const moments = day.moments.map((m) => ({ ...grow(m), level_m: null }));
  const tank_at_begin_m3 = day.tank_at_begin_m3 * factor;
  return { picture: { ...grow(picture), ...changes }, day: { ...day, moments, tank_at_begin_m3 }, month };
}

/** A day on which the string groups are split: the drive runs the pump, the inverter takes the rest. */
function parted({ picture, day, month }: Fixture): Fixture {
  const moments = day.moments.map((m): Draft =>
    m.array_to_pump_kw > 0 && m.utility ? { ...m, array_on: 'both', pump_on: 'drive', hz: 48 } : m,
  );
  return { picture, day: { ...day, moments }, month };
}

fixtures.large = scaled(fixtures.generator!, 60, {
  pumps: 3,
  outlet_lift_m: 140,
  outlet_pressure_bar: 2.5,
  intake_depth_m: 260,
  standing_level_m: Array<number>(12).fill(4),
});
fixtures.small = scaled(fixtures.dual!, 0.06, {
  outlet_lift_m: -2,
  intake_depth_m: 8,
  standing_level_m: Array<number>(12).fill(1),
});
fixtures.parted = parted(fixtures.dual!);
