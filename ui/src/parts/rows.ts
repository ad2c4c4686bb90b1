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

/**
 * The row to show first: one that shares the array between drive and inverter, if possible with at least today's
 * service; else the last without extras.
 */
export function usualRow(answer: Answer): string {
  const rows = rowsOf(answer).filter(
    ({ row, behind: { traits } }) => !traits.bigger_tank && !isUnderBestRule(row.id),
  );
  const shared = rows.filter(({ behind: { traits } }) => traits.has_drive && traits.has_inverter);
  const plain = rows.filter(({ behind: { traits } }) => !traits.has_generator);
  const first = shared.find(({ row }) => row.service.comparable) ?? shared[0] ?? plain.at(-1);
  return (first ?? rowsOf(answer)[0])?.row.id ?? '';
}

/** Whether a row is today's way under its best rule of pumping: the same parts with other settings. */
export const isUnderBestRule = (id: string): boolean => id.endsWith('+best-rule');

/** The name of an arrangement with its extras: `Grid only + generator`. */
export function rowName(id: string, traits: Traits): string {
  const beside = [
    traits.has_generator && say('beside-generator'),
    traits.bigger_tank && say('beside-night-tank'),
  ];
  const parts = [nameOf('arrangement', traits.wiring), ...beside.filter((part) => part !== false)];
  const row = parts.join(' + ');
  return isUnderBestRule(id) ? say('under-best-rule', { row }) : row;
}
