const TEN_MINUTES_S = 600;
const HOUR_S = 3600;

/** The time to which a key moves the handle, in s; null for any other key. */
export function keyLeads(key: string, shift: boolean, at_s: number, length_s: number): number | null {
  const step = shift ? HOUR_S : TEN_MINUTES_S;
  const within = (s: number) => Math.min(length_s, Math.max(0, s));
  switch (key) {
    case 'ArrowRight':
    case 'ArrowUp':
      return within((Math.floor(at_s / step + 1e-9) + 1) * step);
    case 'ArrowLeft':
    case 'ArrowDown':
      return within((Math.ceil(at_s / step - 1e-9) - 1) * step);
    case 'PageUp':
      return within(at_s + HOUR_S);
    case 'PageDown':
      return within(at_s - HOUR_S);
    case 'Home':
      return 0;
    case 'End':
      return length_s;
    default:
      return null;
  }
}
