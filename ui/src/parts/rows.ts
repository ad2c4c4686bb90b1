/** Arrangements in words. */
import { en, type Text } from '../text/en';

/** `grid-only+generator` as a person says it. */
export function rowName(id: string, text: Text = en): string {
  const [wiring = '', ...beside] = id.split('+');
  return [text.rows[wiring] ?? wiring, ...beside.map((part) => text.rows[part] ?? part)].join(' + ');
}
