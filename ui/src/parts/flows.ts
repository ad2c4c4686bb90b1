import type { Moment, Picture } from '../api/types';

/** Flows of a moment that go to pumps or loads: `grid_to_pump_kw`. */
type SharedFlow = Extract<keyof Moment, `${string}_to_${'pump' | 'loads'}_kw`>;
/** A source by its name in the flows of a moment. */
type FlowSource = NameIn<SharedFlow>;
type NameIn<Flow> = Flow extends `${infer Name}_to_${string}` ? Name : never;

/** The colour of each source; a source that a moment gets and this list lacks does not compile. */
const SOURCE = {
  array: 'sun',
  grid: 'grid',
  battery: 'battery',
  generator: 'generator',
} as const satisfies Record<FlowSource, string>;

export type Source = (typeof SOURCE)[FlowSource];
/** The meaning of a line or a colour. */
export type Thing = Source | 'water' | 'farm' | 'loss';

/** A flow below this, in kW or m³/h, is neither drawn nor mentioned. */
export const NOTHING = 0.05;

/** Power on a line, by source. No part is negative; `back` gives the direction. */
export interface Flow {
  parts: { source: Source; kw: number }[];
  kw: number;
  /** Whether it flows against the direction in which the line is drawn. */
  back: boolean;
}

/** The power on the lines of the picture at a moment, in kW. */
export interface Flows {
  arrayToDrive: Flow;
  arrayToInverter: Flow;
  inverterToBus: Flow;
  driveToPump: Flow;
  busToDrive: Flow;
  busToPump: Flow;
  gridToBus: Flow;
  batteryToBus: Flow;
  generatorToBus: Flow;
  busToFarm: Flow;
}

/** Power that goes to the pumps or to the loads, by source. */
function partsTo(use: 'pump' | 'loads', m: Moment): Record<Source, number> {
  const parts = Object.entries(SOURCE) as [FlowSource, Source][];
  return Object.fromEntries(parts.map(([name, source]) => [source, m[`${name}_to_${use}_kw`]])) as Record<
    Source,
    number
  >;
}

function flow(parts: Partial<Record<Source, number>>, back = false): Flow {
  const list = (Object.entries(parts) as [Source, number][])
    .map(([source, kw]) => ({ source, kw }))
    .filter(({ kw }) => kw >= NOTHING);
  return { parts: list, kw: list.reduce((sum, part) => sum + part.kw, 0), back };
}

/** Array energy that is put to use, in kW. */
export function used_kw(m: Moment): number {
  return m.array_to_pump_kw + m.array_to_loads_kw + m.array_to_battery_kw + m.exported_kw;
}

/** Electrical power at the motors, in kW. */
export function pump_kw(m: Moment): number {
  return Object.values(partsTo('pump', m)).reduce((sum, kw) => sum + kw, 0);
}

export function flowsOf(m: Moment): Flows {
  const onDrive = m.pump_on === 'drive' || m.pump_on === 'both';
  const sunByDrive = onDrive && (m.array_on === 'drive' || m.array_on === 'both') ? m.array_to_pump_kw : 0;
  const sunByInverter = Math.max(0, used_kw(m) - sunByDrive);
  const toPump = partsTo('pump', m);
  const byBus = { ...toPump, sun: toPump.sun - sunByDrive };
  const fromGrid = m.imported_kw - m.exported_kw;
  return {
    arrayToDrive: flow({ sun: sunByDrive }),
    arrayToInverter: flow({ sun: sunByInverter }),
    inverterToBus: flow({ sun: sunByInverter }),
    driveToPump: flow(onDrive ? toPump : {}),
    busToDrive: flow(onDrive ? byBus : {}),
    busToPump: flow(m.pump_on === 'bus' || m.pump_on === 'both' ? byBus : {}),
    gridToBus: fromGrid >= 0 ? flow({ grid: fromGrid }) : flow({ sun: -fromGrid }, true),
    batteryToBus: m.battery_kw >= 0 ? flow({ battery: m.battery_kw }) : flow(chargeParts(m), true),
    generatorToBus: flow({ generator: m.generator_kw }),
    busToFarm: flow(partsTo('loads', m)),
  };
}

/** The sources that charge the battery: first the array, the rest from the grid or the generator on the bus. */
function chargeParts(m: Moment): Partial<Record<Source, number>> {
  const charge = -m.battery_kw;
  const sun = Math.min(charge, m.array_to_battery_kw);
  return m.utility ? { sun, grid: charge - sun } : { sun, generator: charge - sun };
}

/** Whether anything keeps the bus alive. */
export function busIsLive(m: Moment, picture: Picture): boolean {
  const islandHolds = picture.battery_kwh !== null && (m.battery_kwh > NOTHING || m.battery_kw < 0);
  return (m.utility && picture.has_grid) || m.generator_kw >= NOTHING || islandHolds;
}

/** Whether the array is changing over between its two devices and is connected to neither. */
export function isSwitching(m: Moment, picture: Picture): boolean {
  const two = picture.inverter_kw !== null && picture.drive_kw !== null && picture.array_kwp !== null;
  return two && m.array_on === 'neither';
}

/** The largest power that a line of this plant can carry, in kW. The width of lines is relative to it. */
export function largest_kw(picture: Picture): number {
  const { array_kwp, inverter_kw, pump_kw: pump, pumps, generator_kw } = picture;
  return Math.max(array_kwp ?? 0, inverter_kw ?? 0, pump * Math.max(1, pumps), generator_kw ?? 0, 1);
}
