import { describe, expect, it } from 'vitest';
import { named } from './rows';

describe('words of the engine', () => {
  it('have the arrangements by their names', () => {
    expect(named('payback of dual-mode against grid-only+generator+night-tank.')).toBe(
      'payback of Dual mode against Grid only + generator + bigger tank filled at night.',
    );
    expect(named('solar-drive-with-grid and solar-drive')).toBe(
      'Solar drive with grid and Solar drive alone',
    );
  });

  it('stay as they are where a name only occurs in another word', () => {
    const words = 'a non-grid-tied inverter, grid-tied-ish, generator';
    expect(named(words)).toBe(words);
  });
});
