/** Rows of an answer, and the names of arrangements. */
import type { Answer, RowDetail, Row, Traits } from '../api/types';
import { nameOf, say } from '../text/words';

/** A row with its details. */
export interface RowAndMore {
  row: Row;
  behind: RowDetail;
}

/** All rows, in their order. */
export function rowsOf(answer: Answer): RowAndMore[] {
  return answer.comparison.arrangements.flatMap((row, i) => {
    const behind = answer.rows[i];
    return behind ? [{ row, behind }] : [];
  });
}

/** The row with an id; the first row if no row has it. */
export function rowOf(answer: Answer, id: string): RowAndMore | undefined {
  const rows = rowsOf(answer);
  return rows.find(({ row }) => row.id === id) ?? rows[0];
}

/** The row to show first: the one that shares the array between drive and inverter, else the last without extras. */
export function usualRow(answer: Answer): string {
  const rows = rowsOf(answer);
  const plain = rows.filter(({ behind: { traits } }) => !traits.has_generator && !traits.bigger_tank);
  const shared = plain.find(({ behind: { traits } }) => traits.has_drive && traits.has_inverter);
  return (shared ?? plain.at(-1) ?? rows[0])?.row.id ?? '';
}

/** The name of an arrangement with its extras: `Grid only + generator`. */
export function rowName(traits: Traits): string {
  const beside = [
    traits.has_generator && say('beside-generator'),
    traits.bigger_tank && say('beside-night-tank'),
  ];
  return [nameOf('arrangement', traits.wiring), ...beside.filter((part) => part !== false)].join(' + ');
}
