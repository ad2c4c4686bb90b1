/** Words by their ids: `say('app-close')`, `say('app-inputs', { values: 3 })`. */
import { FluentNumber } from '@fluent/bundle';
import { bundleOf, LANGUAGE } from './language';

/** The values that a text is filled with: quantities as formatted text, and whole numbers that choose a plural. */
export type Filling = Readonly<Record<string, string | number>>;

/** Families of words for the members of a list that the server sends. An entry is named by its family and member. */
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
 * The text of an entry. A test checks that every id used here is an entry, and that every entry of the page is used. An
 * unknown id is shown as it is; during development it is an error.
 */
export function say(id: string, filling: Filling = {}): string {
  const pattern = bundle.getMessage(id)?.value;
  const errors: Error[] = [];
  const text = pattern ? bundle.formatPattern(pattern, counted(filling), errors) : id;
  if (import.meta.env.DEV && (!pattern || errors[0])) throw errors[0] ?? new Error(`no words called ${id}`);
  return text;
}

/** The name of a member of a family; a member without words is shown as it is. */
export function nameOf(family: Family, member: string): string {
  const id = entryOf(family, member);
  return bundle.hasMessage(id) ? say(id) : member;
}

/** The id of a member's entry. Ids have no dots, so the dot of a key becomes a hyphen. */
export const entryOf = (family: Family, member: string): string => `${family}-${member.replaceAll('.', '-')}`;

/** Counts choose the plural. They are printed without thousands separators, as on the terminal. */
function counted(filling: Filling): Record<string, string | FluentNumber> {
  const entries = Object.entries(filling).map(([name, value]) => [
    name,
    typeof value === 'number' ? new FluentNumber(value, { useGrouping: false }) : value,
  ]);
  return Object.fromEntries(entries) as Record<string, string | FluentNumber>;
}
