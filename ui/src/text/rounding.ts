/**
 * Honest rounding: what is not nothing never shows as 0, and a share that is not whole never shows as 100 %. The bound
 * that it keeps shows instead, `<1` or `>99`. The terminal rounds alike; both are held to the same cases.
 */

/** What differs from nothing, or from the whole, by no more is rounding of the books. */
const ROUNDING = 1e-9;

/** A number in figures, with the decimals that its writer gives. */
export type Write = (value: number) => string;

export const isNothing = (value: number): boolean => Math.abs(value) <= ROUNDING;

/** Of a share of 1: whether nothing is missing. */
export const isWhole = (of_one: number): boolean => isNothing(of_one - 1);

/** A number with so many decimals. */
export function rounded(value: number, decimals: number, write: Write): string {
  if (isNothing(value)) return write(0);
  if (write(Math.abs(value)) !== write(0)) return write(value);
  const least = 10 ** -decimals;
  return value > 0 ? `<${write(least)}` : `>${write(-least)}`;
}

/** A share of 1 in per cent, without the sign, with so many decimals. */
export function roundedShare(of_one: number, decimals: number, write: Write): string {
  if (isNothing(of_one)) return write(0);
  if (isWhole(of_one)) return write(100);
  const per_cent = 100 * of_one;
  if (write(per_cent) !== write(100)) return rounded(per_cent, decimals, write);
  return `>${write(of_one < 1 ? 100 - 10 ** -decimals : 100)}`;
}
