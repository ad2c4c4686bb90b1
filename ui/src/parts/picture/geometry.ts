import type { Point } from './layout';

/** An SVG path through points. */
export function pathOf(points: readonly Point[]): string {
  return points.map(({ x, y }, i) => `${i === 0 ? 'M' : 'L'}${round(x)} ${round(y)}`).join('');
}

function round(x: number): number {
  return Math.round(10 * x) / 10;
}

/** A polyline parallel to another, `by` px to the right in its direction, with mitred corners. */
export function beside(points: readonly Point[], by: number): Point[] {
  const clean = points.filter((p, i) => i === 0 || p.x !== points[i - 1]?.x || p.y !== points[i - 1]?.y);
  const normals = clean.slice(1).map((p, i) => {
    const a = clean[i] ?? p;
    const length = Math.hypot(p.x - a.x, p.y - a.y);
    return { x: -(p.y - a.y) / length, y: (p.x - a.x) / length };
  });
  return clean.map((p, i) => {
    const [a, b] = [normals[i - 1] ?? normals[i], normals[i] ?? normals[i - 1]];
    if (!a || !b) return p;
    const scale = by / Math.max(0.35, 1 + a.x * b.x + a.y * b.y);
    return { x: p.x + (a.x + b.x) * scale, y: p.y + (a.y + b.y) * scale };
  });
}

/** Middle and direction (in degrees) of the longest straight part of a polyline. */
export function longestPart(points: readonly Point[]): Point & { angle: number } {
  let best = { x: 0, y: 0, angle: 0 };
  let longest = -1;
  for (const [i, b] of points.slice(1).entries()) {
    const a = points[i] ?? b;
    const length = Math.hypot(b.x - a.x, b.y - a.y);
    if (length <= longest) continue;
    longest = length;
    best = {
      x: (a.x + b.x) / 2,
      y: (a.y + b.y) / 2,
      angle: (Math.atan2(b.y - a.y, b.x - a.x) * 180) / Math.PI,
    };
  }
  return best;
}

/** Moves places along an axis as little as needed to keep them a gap apart, in their order, and before the end. */
export function keepApart(places: readonly number[], gap: number, end: number): number[] {
  const order = places.map((y, i) => ({ y, i })).sort((a, b) => a.y - b.y || a.i - b.i);
  for (const [n, here] of order.entries()) {
    const before = order[n - 1];
    if (before) here.y = Math.max(here.y, before.y + gap);
  }
  let limit = end;
  for (const here of [...order].reverse()) {
    here.y = Math.min(here.y, limit);
    limit = here.y - gap;
  }
  const placed = [...places];
  for (const { y, i } of order) placed[i] = y;
  return placed;
}
