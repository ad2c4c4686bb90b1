/** Words by their names: `say('app-close')`, `say('app-inputs', { values: 3 })`. */
import { FluentNumber } from '@fluent/bundle';
import { bundleOf, LANGUAGE } from './language';

/** What a text is filled with: quantities as text, already formatted, and whole numbers that it counts. */
export type Filling = Readonly<Record<string, string | number>>;

/** Words for the members of a list that the program sends: the entries are called by family and member. */
export type Family =
  | 'arrangement'
  | 'day-kind'
  | 'loss'
  | 'origin'
  | 'rests'
  | 'section'
  | 'slider'
  | 'thing'
  | 'use'
  | 'verdict'
  | 'view'
  | 'weight'
  | 'why';

const bundle = bundleOf(LANGUAGE);

/**
 * The text of an entry. A test holds that every name given here is an entry and that every entry of the page is asked
 * for; a name that is none stands for itself, and while the page is being developed it is an error.
 */
export function say(id: string, filling: Filling = {}): string {
  const pattern = bundle.getMessage(id)?.value;
  const errors: Error[] = [];
  const text = pattern ? bundle.formatPattern(pattern, counted(filling), errors) : id;
  if (import.meta.env.DEV && (!pattern || errors[0])) throw errors[0] ?? new Error(`no words called ${id}`);
  return text;
}

/** The name of a member of a family; one without words stands for itself. */
export function nameOf(family: Family, member: string): string {
  const id = entryOf(family, member);
  return bundle.hasMessage(id) ? say(id) : member;
}

/** The entry of a member: a dot of a key is none of an entry's name. */
export const entryOf = (family: Family, member: string): string => `${family}-${member.replaceAll('.', '-')}`;

/** Counts choose the plural and are printed as they are, as on the terminal: without marks between thousands. */
function counted(filling: Filling): Record<string, string | FluentNumber> {
  const entries = Object.entries(filling).map(([name, value]) => [
    name,
    typeof value === 'number' ? new FluentNumber(value, { useGrouping: false }) : value,
  ]);
  return Object.fromEntries(entries) as Record<string, string | FluentNumber>;
}
