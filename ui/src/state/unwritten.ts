/** Unsaved changes. The browser keeps them until they are saved, even if the page is closed. */
import type { Change } from '../api/types';

const KEY = 'daylift.unwritten';
/** The most plants whose changes are kept; the oldest are forgotten first. */
const MOST = 20;

interface Unwritten {
  plant: string;
  /** The stamp of the files for which the changes were made. In other files they would mean something else. */
  stamp: string;
  changes: readonly Change[];
}

function all(): Unwritten[] {
  try {
    const kept: unknown = JSON.parse(window.localStorage.getItem(KEY) ?? '[]');
    return Array.isArray(kept) ? (kept as Unwritten[]).filter((one) => Array.isArray(one?.changes)) : [];
  } catch {
    return [];
  }
}

/** Keeps the changes of a plant; an empty list forgets them. */
export function keepUnwritten(plant: string, stamp: string, changes: readonly Change[]): void {
  const before = all();
  const others = before.filter((one) => one.plant !== plant || one.stamp !== stamp);
  if (changes.length === 0 && others.length === before.length) return;
  const kept = changes.length > 0 ? [{ plant, stamp, changes }, ...others] : others;
  try {
    window.localStorage.setItem(KEY, JSON.stringify(kept.slice(0, MOST)));
  } catch {
    // A browser without storage still asks before the page is closed.
  }
}

export function unwritten(plant: string, stamp: string): readonly Change[] {
  return all().find((one) => one.plant === plant && one.stamp === stamp)?.changes ?? [];
}
