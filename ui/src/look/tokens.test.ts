import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

const css = readFileSync('src/look/tokens.css', 'utf8');
const things = ['sun', 'water', 'grid', 'battery', 'generator', 'farm', 'loss'];

type Triple = [number, number, number];

function token(name: string): string {
  const found = new RegExp(`--${name}: (#[0-9a-f]{6});`).exec(css)?.[1];
  if (!found) throw new Error(`no colour --${name}`);
  return found;
}

function linear(hex: string): Triple {
  return [1, 3, 5].map((i) => {
    const v = parseInt(hex.slice(i, i + 2), 16) / 255;
    return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
  }) as Triple;
}

/** Contrast ratio of WCAG 2.2. */
function contrast(a: string, b: string): number {
  const [la, lb] = [a, b].map((hex) => {
    const [r, g, bl] = linear(hex);
    return 0.2126 * r + 0.7152 * g + 0.0722 * bl + 0.05;
  }) as [number, number];
  return Math.max(la, lb) / Math.min(la, lb);
}

/** Full protanopia, deuteranopia and tritanopia after Machado, Oliveira and Fernandes (2009), on linear RGB. */
const eyes: Record<string, Triple[]> = {
  protan: [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998],
  ],
  deutan: [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.01182, 0.04294, 0.968881],
  ],
  tritan: [
    [1.255528, -0.076749, -0.178779],
    [-0.078411, 0.930809, 0.147602],
    [0.004733, 0.691367, 0.3039],
  ],
};

/** CIE 1976 L*a*b* of linear sRGB, white D65. */
function lab(rgb: Triple): Triple {
  const f = (t: number) => (t > 216 / 24389 ? Math.cbrt(t) : ((24389 / 27) * t + 16) / 116);
  const [r, g, b] = rgb.map((v) => Math.min(1, Math.max(0, v))) as Triple;
  const x = f((0.4124 * r + 0.3576 * g + 0.1805 * b) / 0.95047);
  const y = f(0.2126 * r + 0.7152 * g + 0.0722 * b);
  const z = f((0.0193 * r + 0.1192 * g + 0.9505 * b) / 1.08883);
  return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
}

function seen(eye: Triple[], hex: string): Triple {
  const rgb = linear(hex);
  return lab(eye.map((row) => row.reduce((sum, v, i) => sum + v * (rgb[i] ?? 0), 0)) as Triple);
}

describe('colours', () => {
  it.each(things)('%s stands out from the paper', (thing) =>
    expect(contrast(token(thing), token('paper'))).toBeGreaterThanOrEqual(3),
  );
  it.each([...things.map((thing) => `${thing}-ink`), 'ink', 'ink-soft'])('%s can be read', (name) => {
    expect(contrast(token(name), token('paper'))).toBeGreaterThanOrEqual(4.5);
    expect(contrast(token(name), token('earth'))).toBeGreaterThanOrEqual(4.5);
  });
  it.each(Object.keys(eyes))('can be distinguished by %s eyes', (eye) => {
    for (const [i, a] of things.entries()) {
      for (const b of things.slice(i + 1)) {
        const [p, q] = [seen(eyes[eye]!, token(a)), seen(eyes[eye]!, token(b))];
        expect(Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]), `${a} and ${b}`).toBeGreaterThan(10);
      }
    }
  });
  it.each(things)('%s has a second mark', (thing) =>
    expect(css).toMatch(new RegExp(`--${thing}-dash: [^;]+;`)),
  );
});
