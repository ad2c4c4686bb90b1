//! The year cut at every edge: steps, civil hours, and the phases of an arrangement.

use daylift_units::Axis;

/// From an instant on, a route holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Phase {
    /// Begin, seconds after the start of the year.
    pub start_s: f64,
    /// Index of the route.
    pub route: u16,
}

/// A stretch within one step, one civil hour and one phase.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Span {
    /// Begin, seconds after the start of the year.
    pub start_s: f64,
    /// Length \[s\].
    pub length_s: f64,
    /// Step of the axis.
    pub step: u32,
    /// Civil month, 0 = January.
    pub month: u8,
    /// Civil hour, 0 to 23.
    pub hour: u8,
    /// Civil day, counted from 0 at the start of the year.
    pub day: u16,
    /// Index of the route.
    pub route: u16,
}

/// The spans of a year in order.
#[derive(Debug, Clone)]
pub struct Timeline {
    spans: Vec<Span>,
}

impl Timeline {
    /// Cuts the year. Phases must be in order and the first must begin at 0.
    #[must_use]
    pub fn new(axis: &Axis, phases: &[Phase]) -> Self {
        let hours = axis.civil_hours();
        let steps = u32::try_from(axis.steps()).unwrap_or(u32::MAX);
        let mut spans = Vec::with_capacity(axis.steps() + phases.len());
        let (mut hour, mut phase, mut day) = (0, 0, 0);
        for step in 0..steps {
            let mut t = f64::from(step) * axis.step_s();
            let end = f64::from(step + 1) * axis.step_s();
            while t < end {
                while hour + 1 < hours.len() && hours[hour + 1].start_s <= t {
                    hour += 1;
                    day += u16::from(hours[hour].day != hours[hour - 1].day);
                }
                while phase + 1 < phases.len() && phases[phase + 1].start_s <= t {
                    phase += 1;
                }
                let next_hour = hours.get(hour + 1).map_or(f64::INFINITY, |h| h.start_s);
                let next_phase = phases.get(phase + 1).map_or(f64::INFINITY, |p| p.start_s);
                let next = end.min(next_hour).min(next_phase);
                spans.push(Span {
                    start_s: t,
                    length_s: next - t,
                    step,
                    month: hours[hour].month,
                    hour: hours[hour].hour,
                    day,
                    route: phases.get(phase).map_or(0, |p| p.route),
                });
                t = next;
            }
        }
        Self { spans }
    }

    /// The spans in order.
    #[must_use]
    pub fn spans(&self) -> &[Span] {
        &self.spans
    }
}

#[cfg(test)]
mod tests {
    use daylift_units::Step;

    use super::*;

    #[test]
    fn a_wait_of_sixty_seconds_has_its_length_at_every_step() {
        let phases = [0.0, 36_123.0, 36_183.0].map(|start_s| Phase {
            start_s,
            route: u16::from((start_s - 36_123.0_f64).abs() < 1.0),
        });
        for step in [Step::Hour, Step::TenMinutes, Step::Minute] {
            let axis = Axis::new(2025, 365, 0, "UTC", step).unwrap();
            let line = Timeline::new(&axis, &phases);
            let wait: f64 = line.spans().iter().filter(|s| s.route == 1).map(|s| s.length_s).sum();
            let year: f64 = line.spans().iter().map(|s| s.length_s).sum();
            assert!((wait - 60.0).abs() < 1e-9);
            assert!((year - 365.0 * 86_400.0).abs() < 1e-6);
        }
    }

    #[test]
    fn half_hour_zones_cut_hourly_steps_in_two() {
        let axis = Axis::new(2025, 365, 5 * 3600, "Asia/Kolkata", Step::Hour).unwrap();
        let line = Timeline::new(&axis, &[Phase { start_s: 0.0, route: 0 }]);
        assert_eq!(line.spans().len(), 2 * 8760);
    }
}
