import { expect, it } from 'vitest';
import { keyLeads } from './scrub-keys';

it.each([
  ['ArrowRight', false, 36_000, 36_600],
  ['ArrowRight', false, 36_100, 36_600],
  ['ArrowLeft', false, 36_100, 36_000],
  ['ArrowLeft', false, 36_000, 35_400],
  ['ArrowUp', true, 36_000, 39_600],
  ['ArrowDown', true, 36_600, 36_000],
  ['ArrowRight', true, 86_000, 86_400],
  ['ArrowLeft', false, 0, 0],
  ['PageDown', false, 36_600, 33_000],
  ['Home', false, 36_000, 0],
  ['End', false, 36_000, 86_400],
  ['a', false, 36_000, null],
] as const)('%s (shift %s) leads from %d s to %s', (key, shift, from, to) => {
  expect(keyLeads(key, shift, from, 86_400)).toBe(to);
});
