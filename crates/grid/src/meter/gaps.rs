//! The year's intervals with their civil times, and values for missing ones.

use daylift_units::constants::HOUR_S;
use daylift_units::{Axis, ClockChange, Hour, Hourly, Month, MonthHour};
use jiff::ToSpan;
use jiff::civil::DateTime;
use num_integer::gcd;

use super::coverage::YearCoverage;

/// An interval of the year, described by the civil start time of the meter interval that contains it.
#[derive(Debug, Clone, Copy)]
pub(super) struct IntervalSlot {
    pub(super) at: DateTime,
    pub(super) second: bool,
}

/// Equal intervals from the start of the year, each within one interval of the meter.
pub(super) struct IntervalGrid {
    interval_s: u32,
    slots: Vec<IntervalSlot>,
}

impl IntervalGrid {
    /// The meter's intervals start at civil times. Where these do not match the axis (in a half-hour zone, for
    /// example), the grid is finer.
    pub(super) fn new(meter_s: u32, axis: &Axis) -> Self {
        let mut interval_s = meter_s.clamp(1, 3600);
        for hour in axis.civil_hours() {
            let at = axis.civil_at(hour.start_s);
            let of_hour_s = seconds_u32(at.minute()) * 60 + seconds_u32(at.second());
            interval_s = gcd(interval_s, clock_offset_s(of_hour_s, hour.start_s));
        }
        let count = (axis.days() * 86_400) / interval_s;
        let slots = (0..count).map(|i| slot(f64::from(i * interval_s), meter_s, axis)).collect();
        Self { interval_s, slots }
    }

    pub(super) fn interval_s(&self) -> u32 {
        self.interval_s
    }

    pub(super) fn slots(&self) -> &[IntervalSlot] {
        &self.slots
    }

    /// The year's power, with gaps filled and counted.
    pub(super) fn fill(&self, measured: &[Option<f64>], axis: &Axis, coverage: &mut YearCoverage) -> Vec<f64> {
        let means = Means::new(&self.slots, measured);
        let (mut gap_start, mut out) = (None, Vec::with_capacity(measured.len()));
        for (i, (slot, value)) in self.slots.iter().zip(measured).enumerate() {
            if let Some(power_w) = value {
                gap_start = None;
                out.push(*power_w);
                continue;
            }
            let start = *gap_start.get_or_insert(i);
            let length_s = self.seconds(i + 1 - start);
            if length_s > coverage.longest_gap_s.1 {
                coverage.longest_gap_s = (self.seconds(start), length_s);
            }
            if let Some(power_w) = self.weeks_mean(*slot, self.seconds(i), measured, axis) {
                coverage.from_weeks += 1;
                out.push(power_w);
            } else {
                coverage.from_means += 1;
                out.push(means.of(slot.at));
            }
        }
        out
    }

    /// Mean of the same civil time one week before and one week after, where measured.
    fn weeks_mean(&self, slot: IntervalSlot, at_s: f64, measured: &[Option<f64>], axis: &Axis) -> Option<f64> {
        // Where the grid is finer than the meter: the same part of the meter's interval.
        let within_s = at_s
            - if slot.second {
                axis.instant(slot.at)?.later_s
            } else {
                axis.instant(slot.at)?.earlier_s
            };
        let found: Vec<f64> = [-7, 7]
            .into_iter()
            .filter_map(|days: i64| {
                let at = slot.at.checked_add(days.days()).ok()?;
                let there_s = axis.instant(at)?.earlier_s + within_s;
                (there_s >= 0.0).then(|| measured.get(self.index(there_s)).copied().flatten()).flatten()
            })
            .collect();
        (!found.is_empty()).then(|| found.iter().sum::<f64>() / super::share(found.len(), 1))
    }

    fn seconds(&self, count: usize) -> f64 {
        super::share(count, 1) * f64::from(self.interval_s)
    }

    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "an instant of the year, not negative"
    )]
    fn index(&self, at_s: f64) -> usize {
        (at_s / f64::from(self.interval_s)).floor() as usize
    }
}

fn slot(at_s: f64, meter_s: u32, axis: &Axis) -> IntervalSlot {
    let here = axis.civil_at(at_s);
    let of_hour_s = seconds_u32(here.minute()) * 60 + seconds_u32(here.second());
    let back_s = i64::from(of_hour_s % meter_s.max(1));
    let at = here.checked_sub(back_s.seconds()).unwrap_or(here);
    let second = axis.instant(here).is_some_and(|i| i.change == ClockChange::Repeated && at_s >= i.later_s);
    IntervalSlot { at, second }
}

/// Offset between the civil hour's seconds and those of the axis \[s\], within an hour.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a remainder of 3600, not negative"
)]
fn clock_offset_s(of_hour_s: u32, start_s: f64) -> u32 {
    (f64::from(of_hour_s) - start_s).rem_euclid(HOUR_S).round() as u32 % 3600
}

fn seconds_u32(value: i8) -> u32 {
    u32::from(value.unsigned_abs())
}

/// Sum and count of measured values.
#[derive(Clone, Copy, Default)]
struct Sum {
    power_w: f64,
    count: f64,
}

impl Sum {
    fn add(&mut self, power_w: f64) {
        self.power_w += power_w;
        self.count += 1.0;
    }

    fn mean(self) -> Option<f64> {
        (self.count > 0.0).then(|| self.power_w / self.count)
    }
}

/// Means by month and hour of the day, by hour of the day, and of all values.
struct Means {
    month_hour: MonthHour<Sum>,
    hour: Hourly<Sum>,
    all: Sum,
}

impl Means {
    fn new(slots: &[IntervalSlot], measured: &[Option<f64>]) -> Self {
        let mut means = Self {
            month_hour: MonthHour::default(),
            hour: Hourly::default(),
            all: Sum::default(),
        };
        for (slot, value) in slots.iter().zip(measured) {
            if let Some(power_w) = value {
                let (month, hour) = place(slot.at);
                means.month_hour[month][hour].add(*power_w);
                means.hour[hour].add(*power_w);
                means.all.add(*power_w);
            }
        }
        means
    }

    fn of(&self, at: DateTime) -> f64 {
        let (month, hour) = place(at);
        let own = self.month_hour[month][hour].mean();
        own.or(self.hour[hour].mean()).or(self.all.mean()).unwrap_or(0.0)
    }
}

fn place(at: DateTime) -> (Month, Hour) {
    (Month::of(at.date()), Hour::of(at.time()))
}
