/** Arrangements in words. */
import { en, type Text } from '../text/en';

const ID =
  /(?<![\w-])(?:grid-only|solar-drive-with-grid|solar-drive|grid-tied|dual-mode|battery-hybrid)(?:\+(?:generator|night-tank))*(?![\w-])/g;

/** Words of the engine with the arrangements by their names instead of their ids. */
export const named = (words: string, text: Text = en): string => words.replace(ID, (id) => rowName(id, text));

/** `grid-only+generator` as a person says it. */
export function rowName(id: string, text: Text = en): string {
  const [wiring = '', ...beside] = id.split('+');
  return [text.rows[wiring] ?? wiring, ...beside.map((part) => text.rows[part] ?? part)].join(' + ');
}
