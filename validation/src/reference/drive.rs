//! A set on its drive: from the sun alone (§8, §12), and with mains on the second input (§10b).

use daylift_plant::InputKind;

use super::flux::{Allowed, Rule};
use super::lift::{Bus, Lift, Work};
use super::strings::Strings;

/// The power of a drive's strings: used and cut; and the set's operating point.
#[derive(Debug, Clone)]
pub(super) struct Driven {
    pub(super) work: Option<Work>,
    /// What each limit cuts off the array's power \[W\].
    pub(super) cuts: Vec<(&'static str, f64)>,
    /// Array power used \[W\].
    pub(super) array_w: f64,
    /// Power that the strings bring to the drive's bus \[W\].
    pub(super) sun_w: f64,
    /// Power that mains brings to it \[W\].
    pub(super) mains_w: f64,
    /// Share of the time in which it runs.
    pub(super) running: f64,
}

impl Driven {
    fn of(array_w: f64) -> Self {
        Self {
            work: None,
            cuts: Vec::new(),
            array_w,
            sun_w: 0.0,
            mains_w: 0.0,
            running: 1.0,
        }
    }

    fn cut(&mut self, cause: &'static str, to_w: f64) {
        if to_w < self.array_w {
            self.cuts.push((cause, self.array_w - to_w));
            self.array_w = to_w;
        }
    }

    pub(super) fn flow_m3_s(&self) -> f64 {
        self.work.map_or(0.0, |work| work.flow_m3_s)
    }

    fn runs_from_sun(mut self, lift: &Lift<'_>, strings: &Strings<'_>, bus: Bus) -> Self {
        if self.array_w > 0.0 {
            self.sun_w = strings.delivered_w(self.array_w);
            self.work = self.work.or_else(|| lift.at_power(self.sun_w, bus));
        } else {
            self.work = None;
        }
        self
    }

    /// It runs for a share of the time, and stands locked out for the rest.
    pub(super) fn locked_out(&self, offered_w: f64, share: f64) -> Self {
        if self.work.is_none() || share >= 1.0 {
            return self.clone();
        }
        let mut cuts: Vec<_> = self.cuts.iter().map(|&(cause, power_w)| (cause, power_w * share)).collect();
        cuts.push(("start-lockout", offered_w * (1.0 - share)));
        Self {
            work: self.work.map(|work| work.times(share)).filter(|_| share > 0.0),
            cuts,
            array_w: self.array_w * share,
            sun_w: self.sun_w * share,
            mains_w: 0.0,
            running: share,
        }
    }
}

/// All of it lost because no water is wanted.
pub(super) fn idle(strings: &Strings<'_>) -> Driven {
    let mut driven = Driven::of(strings.offered_w());
    driven.cut("water-not-wanted", 0.0);
    driven
}

/// A share of the wanted frequency, limited by well, drive and the flux of a bus \[Hz\].
fn limited_hz(lift: &Lift<'_>, rating_hz: Option<f64>, bus: Bus, share: f64) -> f64 {
    let most_hz = lift.well_hz.unwrap_or(f64::INFINITY).min(rating_hz.unwrap_or(f64::INFINITY));
    most_hz.min(lift.flux_hz(bus)).min(share * lift.wanted_hz())
}

/// Flow that is wanted of the set, with a drive that is not too warm \[m³/s\]; 0 where its maximum frequency gives none.
pub(super) fn wanted_flow_m3_s(lift: &Lift<'_>, height: f64, input: Option<InputKind>) -> f64 {
    let bus = input.map_or(Bus::Full, |kind| bus_of(lift, kind));
    let top_hz = limited_hz(lift, lift.rating_hz(height), bus, 1.0);
    let work = lift.at_hz(top_hz, bus).filter(|_| top_hz >= lift.start_hz);
    work.map_or(0.0, |work| work.flow_m3_s)
}

fn bus_of(lift: &Lift<'_>, kind: InputKind) -> Bus {
    match kind {
        InputKind::Switch { .. } => lift.held_bus(None),
        InputKind::Blend { line_voltage_v } => lift.held_bus(Some(line_voltage_v)),
    }
}

/// A drive with its strings at a moment.
#[derive(Debug, Clone, Copy)]
pub(super) struct Spot<'s, 'a> {
    pub(super) lift: &'s Lift<'a>,
    pub(super) strings: &'s Strings<'a>,
    /// t.
    pub(super) tracking: f64,
    /// D.
    pub(super) derating: f64,
    /// The drive's limit in the heat of the moment \[Hz\].
    pub(super) rating_hz: Option<f64>,
}

impl Spot<'_, '_> {
    /// The most that the strings give \[W\].
    fn most_w(&self) -> f64 {
        self.strings.offered_w() * (1.0 - self.tracking)
    }

    fn tracked(&self) -> Driven {
        let mut driven = Driven::of(self.strings.offered_w());
        driven.cut("tracking", self.most_w());
        driven
    }

    fn array_at(&self, hz: f64, bus: Bus) -> f64 {
        if hz < self.lift.start_hz {
            return 0.0;
        }
        self.strings.array_for_w(self.lift.dc_w(hz, bus))
    }

    fn cut_by_well(&self, driven: &mut Driven, bus: Bus) {
        if let Some(well_hz) = self.lift.well_hz.filter(|&hz| hz < self.lift.wanted_hz()) {
            driven.cut("well-limit", self.array_at(well_hz, bus));
        }
    }

    fn cut_by_rating(&self, driven: &mut Driven, bus: Bus) {
        if let Some(rating_hz) = self.rating_hz.filter(|&hz| hz < self.lift.wanted_hz()) {
            driven.cut("drive-limit", self.array_at(rating_hz, bus));
        }
    }

    /// Whether the strings reach the power with which the set may start.
    pub(super) fn is_ready(&self, restart_power: f64) -> bool {
        let start = self.lift.start.map_or(f64::INFINITY, |start| start.dc_w());
        self.strings.delivered_w(self.most_w()) >= restart_power * start
    }

    /// The sun alone.
    pub(super) fn sun(&self) -> Driven {
        let mut driven = self.until_voltage(true);
        if driven.work.is_none() {
            self.cut_by_rating(&mut driven, Bus::Full);
            driven.cut("pump-at-full-speed", self.array_at(self.lift.wanted_hz(), Bus::Full));
        }
        driven.runs_from_sun(self.lift, self.strings, Bus::Full)
    }

    /// The cuts by tracking, well, start and voltage; with the operating point where the voltage decides it. Where less
    /// flux does not keep the frequency down, rating or full speed cut what is left, if they are `to_count`.
    fn until_voltage(&self, to_count: bool) -> Driven {
        let lift = self.lift;
        let tracked = self.tracked();
        let mut driven = tracked.clone();
        self.cut_by_well(&mut driven, Bus::Full);
        let Some(start) = lift.start else { return driven };
        let left_w = self.strings.delivered_w(driven.array_w);
        let never = lift.start_hz > lift.wanted_hz();
        let reached = if start.flow_m3_s > 0.0 {
            left_w >= start.dc_w()
        } else {
            left_w > start.dc_w()
        };
        if never || !reached {
            driven.cut("below-start", 0.0);
            return driven;
        }
        let Some(top) = self.top(left_w) else { return driven };
        let rule = Rule {
            lift,
            strings: self.strings,
            most_w: tracked.array_w,
            derating: self.derating,
        };
        match rule.allowed(top) {
            Allowed::Everything => {}
            Allowed::Nothing => driven.cut("voltage-limited-speed", 0.0),
            Allowed::Work(work) => {
                let takes_w = self.strings.array_for_w(work.dc_w());
                if takes_w > driven.array_w {
                    // With less flux the well's frequency takes more.
                    driven = tracked;
                    driven.cut("well-limit", takes_w);
                }
                let cause = self.cause_of_reduced(work.hz, top.hz);
                if to_count || matches!(cause, "voltage-limited-speed" | "well-limit") {
                    driven.cut(cause, takes_w);
                }
                driven.work = Some(work);
            }
        }
        driven
    }

    /// What keeps the frequency down while the flux is reduced; `top_hz` is what all but the voltage allow.
    fn cause_of_reduced(&self, hz: f64, top_hz: f64) -> &'static str {
        let reaches = |hz: f64, limit_hz: f64| hz >= limit_hz * (1.0 - 1e-9);
        let wanted_hz = self.lift.wanted_hz();
        let rating_hz = self.rating_hz.unwrap_or(f64::INFINITY);
        if !reaches(hz, top_hz) {
            "voltage-limited-speed"
        } else if self.lift.well_hz.is_some_and(|well_hz| well_hz < wanted_hz && reaches(top_hz, well_hz)) {
            "well-limit"
        } else if !reaches(top_hz, rating_hz.min(wanted_hz)) {
            "voltage-limited-speed"
        } else if rating_hz < wanted_hz {
            "drive-limit"
        } else {
            "pump-at-full-speed"
        }
    }

    /// What power, well, drive and wanted frequency allow at full flux; `None` below the start frequency.
    fn top(&self, left_w: f64) -> Option<Work> {
        let lift = self.lift;
        let ceiling_hz = self.rating_hz.unwrap_or(f64::INFINITY).min(lift.wanted_hz());
        let top = lift.at_power(left_w, Bus::Full)?;
        if top.hz > ceiling_hz {
            return lift.at_hz(ceiling_hz, Bus::Full).filter(|_| ceiling_hz >= lift.start_hz);
        }
        Some(top)
    }

    /// The strings of a drive while another supply runs the set.
    pub(super) fn held_off(&self) -> Driven {
        let mut driven = self.until_voltage(false);
        driven.cut("held-off-by-grid", 0.0);
        driven.work = None;
        driven
    }

    /// The frequency at which mains runs the set, and its maximum frequency \[Hz\]; `None` where the former gives no flow.
    fn marks_hz(&self, wanted_speed: f64, bus: Bus) -> Option<(f64, f64)> {
        let limited = |share: f64| limited_hz(self.lift, self.rating_hz, bus, share);
        let hour_hz = limited(wanted_speed);
        let flows = hour_hz >= self.lift.start_hz && self.lift.at_hz(hour_hz, bus).is_some();
        flows.then_some((hour_hz, limited(1.0)))
    }

    /// Mains on the second input; `None` where it does nothing.
    pub(super) fn second_input(&self, alone: &Driven, kind: InputKind, wanted_speed: f64) -> Option<Driven> {
        let bus = bus_of(self.lift, kind);
        let (hour_hz, top_hz) = self.marks_hz(wanted_speed, bus)?;
        match kind {
            InputKind::Switch { takes_over_below } => {
                let sun_hz = alone.work.map_or(0.0, |work| work.hz);
                if sun_hz > 0.0 && sun_hz >= takes_over_below * hour_hz {
                    return Some(alone.clone());
                }
                let mut driven = self.held_off();
                driven.work = self.lift.at_hz(hour_hz, bus);
                driven.mains_w = self.lift.dc_w(hour_hz, bus);
                Some(driven)
            }
            InputKind::Blend { line_voltage_v } => {
                let rectified_v = daylift_lift::rectified_v(line_voltage_v);
                Some(self.blend(rectified_v, bus, hour_hz, top_hz))
            }
        }
    }

    fn blend(&self, rectified_v: f64, bus: Bus, hour_hz: f64, top_hz: f64) -> Driven {
        let (lift, strings, tracked_w) = (self.lift, self.strings, self.most_w());
        let (held_array_w, held_w) = strings
            .array_v_for_bus(rectified_v, tracked_w)
            .map_or((0.0, 0.0), |voltage_v| strings.at_voltage(voltage_v, tracked_w));
        let (most_array_w, most_w) = if tracked_w > 0.0 && strings.best_bus_v() >= rectified_v {
            (tracked_w, strings.delivered_w(tracked_w))
        } else {
            (held_array_w, held_w)
        };
        let (hour_w, top_w) = (lift.dc_w(hour_hz, bus), lift.dc_w(top_hz, bus));
        let mut driven = self.tracked();
        self.cut_by_well(&mut driven, bus);
        if top_w <= most_w {
            self.cut_by_rating(&mut driven, bus);
            driven.cut("pump-at-full-speed", self.array_at(top_hz, bus));
            return driven.runs_from_sun(lift, strings, bus);
        }
        if hour_w <= most_w {
            driven.cut("held-off-by-grid", most_array_w);
            driven.sun_w = most_w;
            driven.work = lift.at_power(most_w, bus);
            return driven;
        }
        driven.cut("held-off-by-grid", held_array_w);
        driven.sun_w = held_w;
        driven.mains_w = hour_w - held_w;
        driven.work = lift.at_hz(hour_hz, bus);
        driven
    }
}
