//! The year, cut at every instant at which more than the sun may change: civil hours, phases, changes of load.

use std::ops::Range;

use daylift_units::{Axis, Hour, Month};

use crate::route::{Phase, RouteId};
use crate::stream::Grid;

/// A stretch within one civil hour and one phase. Demand, prices, loads and route are constant in it; the sun may change
/// from step to step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Span {
    /// Start, seconds after the start of the year.
    pub start_s: f64,
    /// End, seconds after the start of the year.
    pub end_s: f64,
    /// Step of the axis in which it starts.
    pub step: u32,
    /// Step of the axis in which it ends.
    pub last: u32,
    /// Civil month.
    pub month: Month,
    /// Civil hour.
    pub hour: Hour,
    /// Civil day, counted from 0 at the start of the year.
    pub day: u16,
    /// The route that holds.
    pub route: RouteId,
}

impl Span {
    /// Length \[s\].
    #[must_use]
    pub fn length_s(&self) -> f64 {
        self.end_s - self.start_s
    }
}

/// The spans of a year in order.
#[derive(Debug, Clone, PartialEq)]
pub struct Timeline {
    spans: Vec<Span>,
    /// Spans of a few days of one civil month, in order.
    chapters: Vec<Range<usize>>,
    grid: Grid,
}

/// Civil days of a chapter.
const CHAPTER_DAYS: u16 = 5;

impl Timeline {
    /// Cuts the year at civil hours, at phases, and every `longest_s` from its start \[s\], a whole number of steps: the
    /// loads change at no other instant. Phases must be in order, and the first must start at 0.
    #[must_use]
    pub fn new(axis: &Axis, phases: &[Phase], longest_s: f64) -> Self {
        let hours = axis.civil_hours();
        let grid = Grid::new(axis.step_s());
        let year_s = axis.length_s();
        let mut spans = Vec::with_capacity(hours.len() + phases.len());
        let (mut hour, mut phase, mut day, mut step, mut piece) = (0, 0, 0, 0_u32, 0_u32);
        let mut t = 0.0;
        while t < year_s {
            while hour + 1 < hours.len() && hours[hour + 1].start_s <= t {
                hour += 1;
                day += u16::from(hours[hour].day != hours[hour - 1].day);
            }
            while phase + 1 < phases.len() && phases[phase + 1].start_s <= t {
                phase += 1;
            }
            while f64::from(piece + 1) * longest_s <= t {
                piece += 1;
            }
            let next_hour = hours.get(hour + 1).map_or(f64::INFINITY, |h| h.start_s);
            let next_phase = phases.get(phase + 1).map_or(f64::INFINITY, |p| p.start_s);
            let end_s = year_s.min(next_hour).min(next_phase).min(f64::from(piece + 1) * longest_s);
            while grid.end_s(step as usize) <= t {
                step += 1;
            }
            let mut last = step;
            while grid.end_s(last as usize) < end_s {
                last += 1;
            }
            spans.push(Span {
                start_s: t,
                end_s,
                step,
                last,
                month: hours[hour].month,
                hour: hours[hour].hour,
                day,
                route: phases.get(phase).map_or(RouteId::default(), |p| p.route),
            });
            t = end_s;
        }
        Self {
            chapters: chapters(&spans),
            spans,
            grid,
        }
    }

    /// The spans in order.
    #[must_use]
    pub fn spans(&self) -> &[Span] {
        &self.spans
    }

    /// The spans, grouped into chapters of a few days of one civil month.
    pub(crate) fn chapters(&self) -> &[Range<usize>] {
        &self.chapters
    }

    /// The steps of the axis.
    pub(crate) fn grid(&self) -> Grid {
        self.grid
    }
}

fn chapters(spans: &[Span]) -> Vec<Range<usize>> {
    let mut begin = 0;
    let of_one = |a: &Span, b: &Span| a.month == b.month && a.day / CHAPTER_DAYS == b.day / CHAPTER_DAYS;
    let part = |part: &[Span]| {
        let range = begin..begin + part.len();
        begin = range.end;
        range
    };
    spans.chunk_by(of_one).map(part).collect()
}

#[cfg(test)]
mod tests {
    use daylift_units::Step;

    use super::*;

    #[test]
    fn a_wait_of_sixty_seconds_has_its_length_at_every_step() {
        let phases = [0.0, 36_123.0, 36_183.0].map(|start_s| Phase {
            start_s,
            route: RouteId::from(usize::from((start_s - 36_123.0_f64).abs() < 1.0)),
        });
        for step in [Step::Hour, Step::TenMinutes, Step::Minute] {
            let axis = Axis::new(2025, 365, 0, "UTC", step).unwrap();
            let line = Timeline::new(&axis, &phases, 3600.0);
            let wait: f64 = line.spans().iter().filter(|s| s.route == RouteId::from(1)).map(Span::length_s).sum();
            let year: f64 = line.spans().iter().map(Span::length_s).sum();
            assert!((wait - 60.0).abs() < 1e-9);
            assert!((year - 365.0 * 86_400.0).abs() < 1e-6);
            for span in line.spans() {
                let step_s = f64::from(span.step) * axis.step_s();
                assert!(step_s <= span.start_s && span.start_s < step_s + axis.step_s());
                let last_s = f64::from(span.last) * axis.step_s();
                assert!(last_s < span.end_s && span.end_s <= last_s + axis.step_s());
            }
        }
    }

    #[test]
    fn half_hour_zones_cut_hourly_steps_in_two() {
        let axis = Axis::new(2025, 365, 5 * 3600, "Asia/Kolkata", Step::Hour).unwrap();
        let first = [Phase {
            start_s: 0.0,
            route: RouteId::default(),
        }];
        assert_eq!(Timeline::new(&axis, &first, 3600.0).spans().len(), 2 * 8760);
    }

    #[test]
    fn loads_that_change_every_quarter_of_an_hour_cut_the_hours_in_four() {
        let axis = Axis::new(2025, 365, 0, "UTC", Step::Minute).unwrap();
        let first = [Phase {
            start_s: 0.0,
            route: RouteId::default(),
        }];
        assert_eq!(Timeline::new(&axis, &first, 900.0).spans().len(), 4 * 8760);
    }
}
