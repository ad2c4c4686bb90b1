/**
 * Honest rounding: a value that is not zero never shows as 0, and a share that is not whole never shows as 100 %. It
 * shows as a bound instead, `<1` or `>99`. The terminal rounds in the same way; both are tested with the same cases.
 */

/** A difference from zero or from the whole that is no larger counts as rounding error. */
const ROUNDING = 1e-9;

/** Writes a number with a given number of decimals. */
export type Write = (value: number) => string;

export const isNothing = (value: number): boolean => Math.abs(value) <= ROUNDING;

/** Whether nothing is missing from a share of 1. */
export const isWhole = (of_one: number): boolean => isNothing(of_one - 1);

/** A number with the given number of decimals. */
export function rounded(value: number, decimals: number, write: Write): string {
  if (isNothing(value)) return write(0);
  if (write(Math.abs(value)) !== write(0)) return write(value);
  const least = 10 ** -decimals;
  return value > 0 ? `<${write(least)}` : `>${write(-least)}`;
}

/** A share of 1 in per cent, with the given number of decimals and without the sign. */
export function roundedShare(of_one: number, decimals: number, write: Write): string {
  if (isNothing(of_one)) return write(0);
  if (isWhole(of_one)) return write(100);
  const per_cent = 100 * of_one;
  if (write(per_cent) !== write(100)) return rounded(per_cent, decimals, write);
  return `>${write(of_one < 1 ? 100 - 10 ** -decimals : 100)}`;
}
