/** The current view. It is kept in the address, so that every view has a link. */

export type View = 'start' | 'plant' | 'ways';

/** Views of an opened plant. */
export const VIEWS = ['plant', 'ways'] as const satisfies readonly View[];

export interface Route {
  view: View;
  /** Plant file, relative to the opened folder. */
  plant: string;
  /** The selected arrangement; empty for the one to show first. */
  row: string;
  /** Arrangement beside it; empty for none. */
  beside: string;
  /** Day of the year from 0; null for a day that the desk chooses. */
  day: number | null;
  /** Time of the day, in s. */
  at_s: number;
}

export const NOON_S = 12 * 3600;

/** `#/plant/orchard/plant.toml?row=dual-mode&day=94&at=12:30`. */
export function parse(hash: string): Route {
  const [path = '', query = ''] = hash.replace(/^#\/?/, '').split('?');
  const [view = '', ...rest] = path.split('/');
  const asked = new URLSearchParams(query);
  const known = VIEWS.find((name) => name === view);
  const day = Number(asked.get('day') ?? NaN);
  const [hours = NaN, minutes = 0] = (asked.get('at') ?? '').split(':').map(Number);
  const at_s = hours * 3600 + minutes * 60;
  return {
    view: known && rest.length > 0 ? known : 'start',
    plant: rest.map(decode).join('/'),
    row: asked.get('row') ?? '',
    beside: asked.get('beside') ?? '',
    day: Number.isInteger(day) && day >= 0 ? day : null,
    at_s: asked.get('at') && at_s >= 0 && at_s <= 86_400 ? at_s : NOON_S,
  };
}

/** A link may be typed by hand; a broken escape is kept as it is. */
function decode(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}

export function format(route: Route): string {
  if (route.view === 'start') return '#/';
  const path = route.plant.split('/').map(encodeURIComponent).join('/');
  const asked = new URLSearchParams();
  if (route.row) asked.set('row', route.row);
  if (route.beside) asked.set('beside', route.beside);
  if (route.day !== null) asked.set('day', String(route.day));
  if (route.at_s !== NOON_S) {
    const minutes = Math.floor(route.at_s / 60);
    const two = (n: number) => String(n).padStart(2, '0');
    asked.set('at', `${two(Math.floor(minutes / 60))}:${two(minutes % 60)}`);
  }
  const query = asked.toString().replaceAll('%3A', ':').replaceAll('%2B', '%2B');
  return `#/${route.view}/${path}${query ? `?${query}` : ''}`;
}

/** The route of the address bar. */
class Here {
  current = $state.raw<Route>(parse(window.location.hash));

  constructor() {
    window.addEventListener('hashchange', () => (this.current = parse(window.location.hash)));
  }

  /** Goes to another place; the back button returns from it. */
  go(change: Partial<Route>): void {
    const next = { ...this.current, ...change };
    if (format(next) !== window.location.hash) window.history.pushState(null, '', format(next));
    this.current = next;
  }

  /** Updates the address without a new entry for the back button. */
  shift(change: Partial<Route>): void {
    this.current = { ...this.current, ...change };
    window.history.replaceState(null, '', format(this.current));
  }
}

export const here = new Here();
