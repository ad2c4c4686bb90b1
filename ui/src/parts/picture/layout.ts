import type { Picture } from '../../api/types';

export interface Point {
  x: number;
  y: number;
}

export interface Box extends Point {
  w: number;
  h: number;
}

export type DeviceName = 'generator' | 'battery' | 'grid' | 'farm';

/** A two-position changeover: the arm turns on the pivot. */
export interface Changeover {
  pivot: Point;
  drive: Point;
  /** The contact of the inverter, or of the bus at the pump. */
  other: Point;
}

/** The place of everything, in px of the drawing. Boxes are given by their centres. */
export interface Layout {
  portrait: boolean;
  width: number;
  /** The top of the drawing and its height. */
  top: number;
  height: number;
  sun: Point & { r: number };
  array: Box | null;
  arrayLabel: Point;
  arraySwitch: Changeover | null;
  drive: Box | null;
  inverter: Box | null;
  bus: { x1: number; x2: number; y: number } | null;
  devices: { name: DeviceName; x: number; y: number; labelY: number }[];
  pumpSwitch: Changeover | null;
  section: Section;
  /** The lines of the drawing, each in the direction of its flow. */
  lines: Record<
    'arrayToDrive' | 'arrayToInverter' | 'inverterToBus' | 'driveToPump' | 'busToDrive' | 'busToPump',
    Point[]
  >;
  /** The place for the value of the line from the bus to the pump; null if the label of the pump gives it. */
  riserLabel: Point | null;
  scaleAt: Point;
}

/** The section through the ground, with one scale in metres. */
export interface Section {
  left: number;
  right: number;
  bottom: number;
  ground: number;
  px_per_m: number;
  well: { x: number; halfWidth: number; bottom: number; intake: number };
  tank: Box;
  /** Where the outlet is drawn, at the top of the tank. */
  outlet: number;
  field: { x1: number; x2: number };
}

/** Height of the water in the tank, from its content as a share. */
export function tankLevel(tank: Box, share: number): number {
  return tank.y + tank.h / 2 - 2 - (tank.h - 6) * share;
}

const WIDEST = 1180;
const PORTRAIT_BELOW = 600;
const NARROWEST = 320;
/** Height of a tank whose outlet is too low to draw to scale, or below the well head. Its label gives the true height. */
const LOWEST_TANK = 36;

function devicesOf(picture: Picture): DeviceName[] {
  const names: [DeviceName, boolean][] = [
    ['generator', picture.generator_kw !== null],
    ['battery', picture.battery_kwh !== null],
    ['grid', picture.has_grid],
    ['farm', picture.has_loads],
  ];
  return names.filter(([, there]) => there).map(([name]) => name);
}

/** A tank, given by its top. It is on the ground or on its hill. */
function standing(x: number, top: number, w: number, h: number): Box {
  return { x, y: top + h / 2, w, h };
}

function spreadOut(n: number, from: number, to: number): number[] {
  const pitch = (to - from) / Math.max(1, n);
  return Array.from({ length: n }, (_, i) => from + (i + 0.5) * pitch);
}

/** Depth of the intake, in m. If it is unknown, the pump is drawn a little below the deepest standing level. */
function intake_m(picture: Picture): number {
  return picture.intake_depth_m ?? 1.3 * Math.max(...picture.standing_level_m) + 3;
}

/** How deep the drawing goes, in m: a little below the intake. */
function depth_m(picture: Picture): number {
  return Math.max(4, 1.08 * intake_m(picture));
}

export function layoutFor(picture: Picture, width: number): Layout {
  return width < PORTRAIT_BELOW
    ? portrait(picture, Math.max(NARROWEST, width))
    : landscape(picture, Math.min(WIDEST, width));
}

function landscape(picture: Picture, width: number): Layout {
  const at = (share: number) => Math.round(share * width);
  const [axis, driveY, inverterY, busY, ground, height] = [216, 112, 312, 396, 262, 566];
  const px_per_m = Math.min(284 / depth_m(picture), 190 / Math.max(1, picture.outlet_lift_m), 30);
  const [hasArray, hasDrive, hasInverter] = [picture.array_kwp, picture.drive_kw, picture.inverter_kw].map(
    (kw) => kw !== null,
  );
  const array = hasArray ? { x: at(0.09) + 6, y: axis, w: 96, h: 60 } : null;
  const converterX = at(0.43);
  const box = (y: number) => ({ x: converterX, y, w: 60, h: 56 });
  const drive = hasDrive ? box(driveY) : null;
  const inverter = hasInverter ? box(inverterY) : null;
  const names = devicesOf(picture);
  const riserX = at(0.625);
  const wellX = at(0.74);
  const bus = names.length > 0 ? { x1: 0, x2: riserX, y: busY } : null;
  const columns = spreadOut(names.length, at(0.03), at(0.59));
  if (bus) bus.x1 = Math.min((columns[0] ?? riserX) - 40, converterX - 40);
  const contactX = at(0.285);
  const arraySwitch =
    array && drive && inverter
      ? {
          pivot: { x: at(0.235), y: axis },
          drive: { x: contactX, y: axis - 42 },
          other: { x: contactX, y: axis + 42 },
        }
      : null;
  const pumpContactX = riserX + Math.max(14, at(0.02));
  const pivotX = at(0.69);
  const pumpSwitch =
    drive && inverter && bus
      ? {
          pivot: { x: pivotX, y: axis },
          drive: { x: pumpContactX, y: axis - 42 },
          other: { x: pumpContactX, y: axis + 42 },
        }
      : null;
  const lifted = Math.max(LOWEST_TANK, picture.outlet_lift_m * px_per_m);
  const outlet = ground - lifted;
  const tankW = Math.min(112, Math.max(64, at(0.11)));
  const labelled = picture.outlet_pressure_bar < 0.05 ? 48 : 65;
  const top = Math.max(0, Math.min(20, outlet - labelled));
  const section: Section = {
    left: at(0.66),
    right: width,
    bottom: height,
    ground,
    px_per_m,
    well: {
      x: wellX,
      halfWidth: 24,
      bottom: ground + depth_m(picture) * px_per_m,
      intake: ground + intake_m(picture) * px_per_m,
    },
    tank: standing(at(0.862), outlet, tankW, Math.min(62, lifted)),
    outlet,
    field: { x1: at(0.862) + tankW / 2 + 18, x2: width - 8 },
  };
  const motor = { x: wellX - 9, y: section.well.intake };
  const down = [{ x: wellX - 9, y: axis }, motor];
  const bend = contactX + Math.max(14, at(0.02));
  const out = { x: (array?.x ?? 0) + 48, y: axis };
  const driveIn = { x: converterX - 30, y: driveY };
  const inverterIn = { x: converterX - 30, y: inverterY };
  const toPump = pumpSwitch
    ? [{ x: riserX, y: driveY }, { x: riserX, y: axis - 42 }, pumpSwitch.drive, pumpSwitch.pivot, ...down]
    : [{ x: riserX, y: driveY }, { x: riserX, y: axis }, ...down];
  const riser = pumpSwitch
    ? [{ x: riserX, y: busY }, { x: riserX, y: axis + 42 }, pumpSwitch.other, pumpSwitch.pivot, ...down]
    : [{ x: riserX, y: busY }, { x: riserX, y: axis }, ...down];
  return {
    portrait: false,
    width,
    top,
    height: height - top,
    sun: { x: Math.max(46, at(0.05) + 6), y: 70, r: 25 },
    array,
    arrayLabel: { x: (array?.x ?? 0) - 48, y: axis + 58 },
    arraySwitch,
    drive,
    inverter,
    bus,
    devices: names.map((name, i) => ({ name, x: columns[i] ?? 0, y: 456, labelY: 508 })),
    pumpSwitch,
    section,
    lines: {
      arrayToDrive: arraySwitch
        ? [
            out,
            arraySwitch.pivot,
            arraySwitch.drive,
            { x: bend, y: axis - 42 },
            { x: bend, y: driveY },
            driveIn,
          ]
        : [out, { x: contactX, y: axis }, { x: contactX, y: driveY }, driveIn],
      arrayToInverter: arraySwitch
        ? [
            out,
            arraySwitch.pivot,
            arraySwitch.other,
            { x: bend, y: axis + 42 },
            { x: bend, y: inverterY },
            inverterIn,
          ]
        : [out, { x: contactX, y: axis }, { x: contactX, y: inverterY }, inverterIn],
      inverterToBus: [
        { x: converterX, y: inverterY + 28 },
        { x: converterX, y: busY },
      ],
      driveToPump: [{ x: converterX + 30, y: driveY }, ...toPump],
      // From below, beside its DC input, as the line to the pump leaves on the right.
      busToDrive: inverter
        ? [
            { x: at(0.54), y: busY },
            { x: at(0.54), y: driveY + 18 },
            { x: converterX + 30, y: driveY + 18 },
          ]
        : [
            { x: converterX, y: busY },
            { x: converterX, y: driveY + 28 },
          ],
      busToPump: riser,
    },
    riserLabel: { x: riserX - 14, y: 356 },
    scaleAt: { x: at(0.16), y: top + 22 },
  };
}

function portrait(picture: Picture, width: number): Layout {
  const names = devicesOf(picture);
  // Without a bus and its devices, the well moves up into their place.
  const raised = names.length > 0 ? 0 : 160;
  const [axis, driveY, inverterY, busY, wireY] = [116, 50, 188, 258, 416 - raised];
  const [hasArray, hasDrive, hasInverter] = [picture.array_kwp, picture.drive_kw, picture.inverter_kw].map(
    (kw) => kw !== null,
  );
  const lifted_m = Math.max(0, picture.outlet_lift_m);
  const px_per_m = Math.min(310 / (depth_m(picture) + lifted_m), 26);
  const ground = 500 - raised + Math.max(72, lifted_m * px_per_m);
  const wellX = Math.round(0.27 * width);
  const converterX = Math.round(0.66 * width);
  const box = (y: number) => ({ x: converterX, y, w: 54, h: 50 });
  const array = hasArray ? { x: 62, y: axis, w: 92, h: 56 } : null;
  const drive = hasDrive ? box(driveY) : null;
  const inverter = hasInverter ? box(inverterY) : null;
  const [edgeL, edgeR] = [14, width - 14];
  const bus = names.length > 0 ? { x1: edgeL, x2: width - 30, y: busY } : null;
  const columns = spreadOut(names.length, 26, width - 24);
  const contactX = 176;
  const arraySwitch =
    array && drive && inverter
      ? {
          pivot: { x: 144, y: axis },
          drive: { x: contactX, y: axis - 34 },
          other: { x: contactX, y: axis + 34 },
        }
      : null;
  const pumpPivot = { x: wellX - 9, y: wireY + 58 };
  const pumpSwitch =
    drive && inverter && bus
      ? { pivot: pumpPivot, drive: { x: wellX + 24, y: wireY + 26 }, other: { x: wellX - 42, y: wireY + 26 } }
      : null;
  const lifted = Math.max(LOWEST_TANK, picture.outlet_lift_m * px_per_m);
  const outlet = ground - lifted;
  const tankW = 78;
  const tankX = Math.round(0.62 * width);
  const bottom = ground + depth_m(picture) * px_per_m + 14;
  const section: Section = {
    left: 0,
    right: width,
    bottom,
    ground,
    px_per_m,
    well: {
      x: wellX,
      halfWidth: 22,
      bottom: ground + depth_m(picture) * px_per_m,
      intake: ground + intake_m(picture) * px_per_m,
    },
    tank: standing(tankX, outlet, tankW, Math.min(56, lifted)),
    outlet,
    field: { x1: tankX + tankW / 2 + 20, x2: width - 6 },
  };
  const down = [pumpPivot, { x: wellX - 9, y: section.well.intake }];
  const bend = contactX + 14;
  const out = { x: 108, y: axis };
  const driveIn = { x: converterX - 27, y: driveY };
  const inverterIn = { x: converterX - 27, y: inverterY };
  const wire = (x: number) => [
    { x, y: wireY },
    { x, y: wireY + 26 },
  ];
  return {
    portrait: true,
    width,
    top: 0,
    height: bottom,
    sun: { x: 38, y: 38, r: 18 },
    array,
    arrayLabel: { x: 8, y: axis + 52 },
    arraySwitch,
    drive,
    inverter,
    bus,
    devices: names.map((name, i) => ({ name, x: columns[i] ?? 0, y: 310, labelY: 356 })),
    pumpSwitch,
    section,
    lines: {
      arrayToDrive: arraySwitch
        ? [
            out,
            arraySwitch.pivot,
            arraySwitch.drive,
            { x: bend, y: axis - 34 },
            { x: bend, y: driveY },
            driveIn,
          ]
        : [out, { x: contactX, y: axis }, { x: contactX, y: driveY }, driveIn],
      arrayToInverter: arraySwitch
        ? [
            out,
            arraySwitch.pivot,
            arraySwitch.other,
            { x: bend, y: axis + 34 },
            { x: bend, y: inverterY },
            inverterIn,
          ]
        : [out, { x: contactX, y: axis }, { x: contactX, y: inverterY }, inverterIn],
      inverterToBus: [
        { x: converterX, y: inverterY + 25 },
        { x: converterX, y: busY },
      ],
      driveToPump: [
        { x: converterX + 27, y: driveY },
        { x: edgeR, y: driveY },
        { x: edgeR, y: wireY },
        ...wire(pumpSwitch ? wellX + 24 : wellX - 9),
        ...down,
      ],
      busToDrive: inverter
        ? [
            { x: width - 38, y: busY },
            { x: width - 38, y: driveY + 16 },
            { x: converterX + 27, y: driveY + 16 },
          ]
        : [
            { x: converterX, y: busY },
            { x: converterX, y: driveY + 25 },
          ],
      busToPump: [
        { x: edgeL, y: busY },
        { x: edgeL, y: wireY },
        ...wire(pumpSwitch ? wellX - 42 : wellX - 9),
        ...down,
      ],
    },
    riserLabel: null,
    scaleAt: { x: 8, y: 230 },
  };
}
