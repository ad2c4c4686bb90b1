/** Rows of an answer, and arrangements by their names. */
import type { Answer, Behind, Row, Traits } from '../api/types';
import { nameOf, say } from '../text/words';

/** A row with what stands behind it. */
export interface RowAndMore {
  row: Row;
  behind: Behind;
}

/** All rows, in their order. */
export function rowsOf(answer: Answer): RowAndMore[] {
  return answer.comparison.arrangements.flatMap((row, i) => {
    const behind = answer.rows[i];
    return behind ? [{ row, behind }] : [];
  });
}

/** A row; the first when there is none of that id. */
export function rowOf(answer: Answer, id: string): RowAndMore | undefined {
  const rows = rowsOf(answer);
  return rows.find(({ row }) => row.id === id) ?? rows[0];
}

/** The row that is looked at when nobody has chosen: the one that shares the array, else the last without extras. */
export function usualRow(answer: Answer): string {
  const rows = rowsOf(answer);
  const plain = rows.filter(({ behind: { traits } }) => !traits.has_generator && !traits.bigger_tank);
  const shared = plain.find(({ behind: { traits } }) => traits.has_drive && traits.has_inverter);
  return (shared ?? plain.at(-1) ?? rows[0])?.row.id ?? '';
}

/** An arrangement as a person says it, with what stands beside it: `Grid only + generator`. */
export function rowName(traits: Traits): string {
  const beside = [
    traits.has_generator && say('beside-generator'),
    traits.bigger_tank && say('beside-night-tank'),
  ];
  return [nameOf('arrangement', traits.wiring), ...beside.filter((part) => part !== false)].join(' + ');
}
