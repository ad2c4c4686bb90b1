import { cleanup, fireEvent, render, screen } from '@testing-library/svelte';
import { afterEach, beforeAll, describe, expect, it, vi } from 'vitest';
import { fixtures } from '../dev/fixtures';
import DayScrubber from './DayScrubber.svelte';
import LivingPicture from './LivingPicture.svelte';
import { momentAt } from './day-in-words';

/** jsdom has no layout and no ResizeObserver. */
class NoSizes {
  observe() {}
  unobserve() {}
  disconnect() {}
}

beforeAll(() => vi.stubGlobal('ResizeObserver', NoSizes));
afterEach(cleanup);

const { picture, day, month } = fixtures.dual!;
const NOON_OUTAGE_S = 12 * 3600;
const MORNING_S = 9 * 3600;

function pictureAt(at_s: number, plant = picture) {
  const moment = momentAt(day, at_s)!;
  return render(LivingPicture, { picture: plant, moment, month, tankAtBegin: null }).container;
}

function scrubberAt(at_s: number, onswitch = vi.fn()) {
  render(DayScrubber, { day, at_s, switched: [], onswitch, playing: false });
  return onswitch;
}

describe('the living picture', () => {
  it('is an image with a name and a description in words', () => {
    pictureAt(NOON_OUTAGE_S);
    const image = screen.getByRole('img', { name: 'The plant at 12:00' });
    const words = document.getElementById(image.getAttribute('aria-describedby') ?? '')?.textContent;
    expect(words).toContain('The grid is down. The array feeds the drive');
  });

  it('moves dashes only on lines with a flow', () => {
    const night = pictureAt(20 * 3600);
    const moving = (root: Element) => root.querySelectorAll('.moving').length;
    // At night in an outage only the water from the tank to the field flows.
    expect(moving(night)).toBe(1);
    expect(moving(pictureAt(NOON_OUTAGE_S))).toBeGreaterThan(2);
  });

  it('draws battery and generator only if the plant has them', () => {
    const without = pictureAt(NOON_OUTAGE_S);
    expect(without.querySelector('.battery, .generator')).toBeNull();
    const withBoth = pictureAt(NOON_OUTAGE_S, { ...picture, battery_kwh: 40, generator_kw: 30 });
    expect(withBoth.querySelector('g.battery')).not.toBeNull();
    expect(withBoth.querySelector('g.generator')).not.toBeNull();
  });

  it('carries no style attribute, which the policy of the page would refuse', () => {
    expect(pictureAt(MORNING_S).querySelectorAll('[style]').length).toBe(0);
  });
});

describe('the scrubber', () => {
  it('gives its time in words and follows the keys', async () => {
    scrubberAt(NOON_OUTAGE_S);
    const slider = screen.getByRole('slider', { name: 'Time of day' });
    expect(slider.getAttribute('aria-valuetext')).toMatch(/^12:00, grid down, sun 19\.7/);
    await fireEvent.keyDown(slider, { key: 'ArrowRight' });
    expect(slider.getAttribute('aria-valuenow')).toBe(String(NOON_OUTAGE_S + 600));
    await fireEvent.keyDown(slider, { key: 'Home' });
    expect(slider.getAttribute('aria-valuetext')).toMatch(/^00:00, grid on/);
  });

  it('starts an outage if the grid is there', async () => {
    const onswitch = scrubberAt(MORNING_S);
    const control = screen.getByRole('switch', { name: 'Grid', checked: true });
    expect(control.textContent).toContain('Start an outage here');
    await fireEvent.click(control);
    expect(onswitch).toHaveBeenCalledExactlyOnceWith(false);
  });

  it('restores the grid if it is away', async () => {
    const onswitch = scrubberAt(NOON_OUTAGE_S);
    const control = screen.getByRole('switch', { name: 'Grid', checked: false });
    expect(control.textContent).toContain('End the outage here');
    await fireEvent.click(control);
    expect(onswitch).toHaveBeenCalledExactlyOnceWith(true);
  });

  it('runs and pauses', async () => {
    scrubberAt(MORNING_S);
    await fireEvent.click(screen.getByRole('button', { name: 'Run the day' }));
    await fireEvent.click(screen.getByRole('button', { name: 'Pause' }));
    expect(screen.getByRole('button', { name: 'Run the day' })).toBeTruthy();
  });
});
