/** Where the energy of the sun went: the parts of a bar. */
import type { Row } from '../api/types';
import { isNothing } from '../text/rounding';
import { nameOf, say } from '../text/words';
import type { Thing } from './flows';

export interface SunPart {
  key: string;
  name: string;
  kwh: number;
  /** The meaning of its colour. */
  thing: Thing;
  lost: boolean;
}

/** The meaning of the colour of each use; any other use belongs to the farm. */
const THINGS: Readonly<Record<string, Thing>> = {
  to_pump: 'water',
  to_battery: 'battery',
  exported_paid: 'grid',
  exported_unpaid: 'grid',
};

/** The keys of the uses of the array's energy, in the order of the answer: without the available and the lost energy. */
function usesOf({ array_kwh }: Row): [string, number][] {
  return Object.entries(array_kwh).filter(
    (entry): entry is [string, number] => entry[0] !== 'available' && typeof entry[1] === 'number',
  );
}

/** Losses below this share of the available energy are shown together as others. */
const NAMED = 0.02;

/** The parts of the available energy: uses first, then losses from the largest to the smallest. Empty parts are left out. */
export function sunParts(row: Row): SunPart[] {
  const { array_kwh: array } = row;
  const uses = usesOf(row).map(([key, kwh]): SunPart => ({
    key,
    name: nameOf('use', key),
    kwh,
    thing: THINGS[key] ?? 'farm',
    lost: false,
  }));
  const losses = Object.entries(array.lost)
    .filter(([, kwh]) => kwh > 0)
    .sort((a, b) => b[1] - a[1])
    .map(([key, kwh]): SunPart => ({
      key,
      name: nameOf('loss', key),
      kwh,
      thing: 'loss',
      lost: true,
    }));
  const named = losses.filter((part) => part.kwh >= NAMED * array.available);
  const rest = losses.filter((part) => part.kwh < NAMED * array.available);
  const other: SunPart[] =
    rest.length > 1
      ? [
          {
            key: 'other',
            name: say('ways-other-losses'),
            kwh: rest.reduce((sum, part) => sum + part.kwh, 0),
            thing: 'loss',
            lost: true,
          },
        ]
      : rest;
  return [...uses.filter((part) => !isNothing(part.kwh)), ...named, ...other];
}
