import { describe, expect, it } from 'vitest';
import { beside, keepApart, longestPart, pathOf } from './geometry';

const corner = [
  { x: 0, y: 0 },
  { x: 10, y: 0 },
  { x: 10, y: 30 },
];

describe('lines', () => {
  it('are written as a path', () => expect(pathOf(corner)).toBe('M0 0L10 0L10 30'));
  it('run parallel around a corner', () =>
    expect(beside(corner, 2)).toEqual([
      { x: 0, y: 2 },
      { x: 8, y: 2 },
      { x: 8, y: 30 },
    ]));
  it('find their longest part', () => expect(longestPart(corner)).toEqual({ x: 10, y: 15, angle: 90 }));
});

describe('labels', () => {
  it('stay in place if there is room', () => expect(keepApart([50, 10], 17, 100)).toEqual([50, 10]));
  it('move apart and stay before the end', () => {
    expect(keepApart([10, 12], 17, 100)).toEqual([10, 27]);
    expect(keepApart([90, 98, 10], 17, 100)).toEqual([83, 100, 10]);
  });
});
