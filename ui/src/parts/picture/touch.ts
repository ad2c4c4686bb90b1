/** Where the picture can be touched, and which section of the inputs each place opens. */
import type { Box, Layout } from './layout';

/** Parts of the picture that can be touched. */
export const TOUCHED = [
  'array',
  'inverter',
  'drive',
  'grid',
  'farm',
  'battery',
  'generator',
  'pump',
  'tank',
  'well',
  'demand',
] as const;

export interface Touched {
  section: string;
  thing: (typeof TOUCHED)[number];
  box: Box;
}

/** Smallest size of a touch target, in px. */
const FINGER = 44;

const SECTIONS = { grid: 'grid', farm: 'load', battery: 'battery', generator: 'generator' } as const;

function atLeast({ x, y, w, h }: Box): Box {
  return { x, y, w: Math.max(FINGER, w), h: Math.max(FINGER, h) };
}

/** Boxes are given by their centres. */
export function touchable(layout: Layout): Touched[] {
  const { well, tank, ground, field } = layout.section;
  const pumpTop = (ground + well.intake) / 2;
  const places: (Touched | null)[] = [
    layout.array && { section: 'array', thing: 'array', box: layout.array },
    layout.drive && { section: 'drive', thing: 'drive', box: layout.drive },
    layout.inverter && { section: 'inverter', thing: 'inverter', box: layout.inverter },
    ...layout.devices.map(({ name, x, y }): Touched => ({
      section: SECTIONS[name],
      thing: name,
      box: { x, y, w: 60, h: 56 },
    })),
    {
      section: 'well',
      thing: 'well',
      box: { x: well.x, y: (ground + pumpTop) / 2, w: 2 * well.halfWidth, h: pumpTop - ground - 4 },
    },
    {
      section: 'pump',
      thing: 'pump',
      box: { x: well.x, y: (pumpTop + well.bottom) / 2, w: 2 * well.halfWidth, h: well.bottom - pumpTop },
    },
    { section: 'tank', thing: 'tank', box: tank },
    {
      section: 'demand',
      thing: 'demand',
      box: { x: (field.x1 + field.x2) / 2, y: ground, w: field.x2 - field.x1, h: 24 },
    },
  ];
  return places.filter((place) => place !== null).map((place) => ({ ...place, box: atLeast(place.box) }));
}
