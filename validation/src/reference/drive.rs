//! A set on its drive: from the sun alone (§8, §12), and with mains on the second input (§10b).

use daylift_lift::rectified_v;
use daylift_plant::InputKind;

use super::lift::{Lift, Work};
use super::strings::Strings;

/// The power of a drive's strings: used and cut; and the set's operating point.
#[derive(Debug, Clone, Default)]
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
}

impl Driven {
    fn of(array_w: f64) -> Self {
        Self {
            array_w,
            ..Self::default()
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

    fn runs_from_sun(mut self, lift: &Lift<'_>, strings: &Strings<'_>) -> Self {
        if self.array_w > 0.0 {
            self.sun_w = strings.delivered_w(self.array_w);
            self.work = lift.at_power(self.sun_w);
        }
        self
    }
}

/// All of it lost because no water is wanted.
pub(super) fn idle(strings: &Strings<'_>) -> Driven {
    let mut driven = Driven::of(strings.offered_w());
    driven.cut("water-not-wanted", 0.0);
    driven
}

/// The sun alone.
pub(super) fn sun(lift: &Lift<'_>, strings: &Strings<'_>) -> Driven {
    let mut driven = until_voltage(lift, strings);
    let wanted_hz = lift.wanted_hz();
    if let Some(rating_hz) = lift.rating_hz.filter(|&hz| hz < wanted_hz) {
        driven.cut("drive-limit", array_at(lift, strings, rating_hz));
    }
    driven.cut("pump-at-full-speed", array_at(lift, strings, wanted_hz));
    driven.runs_from_sun(lift, strings)
}

fn array_at(lift: &Lift<'_>, strings: &Strings<'_>, hz: f64) -> f64 {
    if hz < lift.start_hz {
        return 0.0;
    }
    strings.array_for_w(lift.dc_w(hz))
}

fn cut_by_well(driven: &mut Driven, lift: &Lift<'_>, strings: &Strings<'_>) {
    if let Some(well_hz) = lift.well_hz.filter(|&hz| hz < lift.wanted_hz()) {
        driven.cut("well-limit", array_at(lift, strings, well_hz));
    }
}

/// The cuts by well, start and voltage.
fn until_voltage(lift: &Lift<'_>, strings: &Strings<'_>) -> Driven {
    let mut driven = Driven::of(strings.offered_w());
    cut_by_well(&mut driven, lift, strings);
    let Some(start) = lift.start else { return driven };
    let left_w = strings.delivered_w(driven.array_w);
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
    let ceiling_hz = lift.rating_hz.unwrap_or(f64::INFINITY).min(lift.wanted_hz());
    let Some(mut top) = lift.at_power(left_w) else {
        return driven;
    };
    if top.hz > ceiling_hz {
        let Some(at_ceiling) = lift.at_hz(ceiling_hz).filter(|_| ceiling_hz >= lift.start_hz) else {
            return driven;
        };
        top = at_ceiling;
    }
    // Above 0 where some voltage is sufficient.
    let margin = |work: Work| strings.best_above_bus_w(lift.need_v(work.hz)) / work.dc_w() - 1.0;
    if margin(top) >= -1e-9 {
        return driven;
    }
    if margin(start) < 0.0 {
        driven.cut("voltage-limited-speed", 0.0);
    } else if let Some(work) = lift.where_zero(top, margin) {
        driven.cut("voltage-limited-speed", strings.array_for_w(work.dc_w()));
    }
    driven
}

/// A share of the wanted frequency, limited by well and drive \[Hz\].
fn limited_hz(lift: &Lift<'_>, share: f64) -> f64 {
    let most_hz = lift.well_hz.unwrap_or(f64::INFINITY).min(lift.rating_hz.unwrap_or(f64::INFINITY));
    most_hz.min(share * lift.wanted_hz())
}

/// The frequency at which mains runs the set, and its maximum frequency \[Hz\]; `None` where the former gives no flow.
fn marks_hz(lift: &Lift<'_>, wanted_speed: f64) -> Option<(f64, f64)> {
    let hour_hz = limited_hz(lift, wanted_speed);
    let flows = hour_hz >= lift.start_hz && lift.at_hz(hour_hz).is_some();
    flows.then_some((hour_hz, limited_hz(lift, 1.0)))
}

/// Flow that is wanted of the set \[m³/s\]; 0 where its maximum frequency gives none.
pub(super) fn wanted_flow_m3_s(lift: &Lift<'_>) -> f64 {
    let top_hz = limited_hz(lift, 1.0);
    let work = lift.at_hz(top_hz).filter(|_| top_hz >= lift.start_hz);
    work.map_or(0.0, |work| work.flow_m3_s)
}

/// The strings of a drive while another supply runs the set.
pub(super) fn held_off(lift: &Lift<'_>, strings: &Strings<'_>) -> Driven {
    let mut driven = until_voltage(lift, strings);
    driven.cut("held-off-by-grid", 0.0);
    driven
}

/// Mains on the second input; `None` where it does nothing.
pub(super) fn second_input(
    lift: &Lift<'_>,
    strings: &Strings<'_>,
    alone: &Driven,
    kind: InputKind,
    wanted_speed: f64,
) -> Option<Driven> {
    let (hour_hz, top_hz) = marks_hz(lift, wanted_speed)?;
    match kind {
        InputKind::Switch { takes_over_below } => {
            let sun_hz = alone.work.map_or(0.0, |work| work.hz);
            if sun_hz > 0.0 && sun_hz >= takes_over_below * hour_hz {
                return Some(alone.clone());
            }
            let mut driven = held_off(lift, strings);
            driven.work = lift.at_hz(hour_hz);
            driven.mains_w = lift.dc_w(hour_hz);
            Some(driven)
        }
        InputKind::Blend { line_voltage_v } => Some(blend(lift, strings, rectified_v(line_voltage_v), hour_hz, top_hz)),
    }
}

fn blend(lift: &Lift<'_>, strings: &Strings<'_>, rectified_v: f64, hour_hz: f64, top_hz: f64) -> Driven {
    let offered_w = strings.offered_w();
    let (held_array_w, held_w) = strings
        .array_v_for_bus(rectified_v)
        .map_or((0.0, 0.0), |voltage_v| strings.at_voltage(voltage_v));
    let (most_array_w, most_w) = if offered_w > 0.0 && strings.best_bus_v() >= rectified_v {
        (offered_w, strings.delivered_w(offered_w))
    } else {
        (held_array_w, held_w)
    };
    let (hour_w, top_w) = (lift.dc_w(hour_hz), lift.dc_w(top_hz));
    let mut driven = Driven::of(offered_w);
    cut_by_well(&mut driven, lift, strings);
    if top_w <= most_w {
        if let Some(rating_hz) = lift.rating_hz.filter(|&hz| hz < lift.wanted_hz()) {
            driven.cut("drive-limit", array_at(lift, strings, rating_hz));
        }
        driven.cut("pump-at-full-speed", array_at(lift, strings, lift.wanted_hz()));
        return driven.runs_from_sun(lift, strings);
    }
    if hour_w <= most_w {
        driven.cut("held-off-by-grid", most_array_w);
        driven.sun_w = most_w;
        driven.work = lift.at_power(most_w);
        return driven;
    }
    driven.cut("held-off-by-grid", held_array_w);
    driven.sun_w = held_w;
    driven.mains_w = hour_w - held_w;
    driven.work = lift.at_hz(hour_hz);
    driven
}
