//! A pump set in a month; everything else follows from its flow.

use daylift_lift::{MainsPoint, PumpSet};
use daylift_units::{Month, root};

/// An operating point of the set on its drive.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Work {
    pub(super) hz: f64,
    pub(super) flow_m3_s: f64,
    pub(super) motor_w: f64,
    pub(super) cable_w: f64,
    pub(super) loss_w: f64,
}

impl Work {
    /// Input of the drive \[W\].
    pub(super) fn dc_w(&self) -> f64 {
        self.motor_w + self.cable_w + self.loss_w
    }
}

/// A set, and its marks in a month.
#[derive(Debug)]
pub(super) struct Lift<'a> {
    set: &'a PumpSet,
    month: Month,
    motor_cable_loss: f64,
    greatest_flow_m3_s: f64,
    pub(super) mains: Option<MainsPoint>,
    pub(super) well_hz: Option<f64>,
    pub(super) rating_hz: Option<f64>,
    pub(super) start_hz: f64,
    /// Where it starts; `None` without a drive.
    pub(super) start: Option<Work>,
}

impl<'a> Lift<'a> {
    pub(super) fn new(set: &'a PumpSet, month: Month) -> Self {
        let rated_in_w = set.motor().rated_input_w();
        let any = set.duty(month, 1.0);
        let mut lift = Self {
            set,
            month,
            motor_cable_loss: any.map_or(0.0, |d| d.cable_w * rated_in_w / (d.motor_w * d.motor_w)),
            greatest_flow_m3_s: 0.0,
            mains: set.mains(month),
            well_hz: set.well_limit_hz(month),
            rating_hz: set.drive_limit_hz(month),
            start_hz: set.start_hz(month),
            start: None,
        };
        let top_hz = set.greatest_hz().max(set.motor().rated_frequency_hz());
        lift.greatest_flow_m3_s =
            set.duty(month, top_hz / set.motor().rated_frequency_hz()).map_or(0.0, |d| d.flow_m3_s);
        lift.start = lift.at_hz(lift.start_hz).or_else(|| lift.at_flow(0.0));
        lift
    }

    pub(super) fn wanted_hz(&self) -> f64 {
        self.set.wanted_hz()
    }

    /// Bus voltage that a frequency needs \[V\].
    pub(super) fn need_v(&self, hz: f64) -> f64 {
        self.set.bus_v_per_hz().map_or(0.0, |per_hz| per_hz * hz)
    }

    /// The set at a flow: r from r²·H0 + b·r·Q + c·Q² = H(Q), from which the rest follows.
    pub(super) fn at_flow(&self, flow_m3_s: f64) -> Option<Work> {
        let drive = self.set.drive()?;
        let (pump, motor) = (self.set.pump(), self.set.motor());
        let head_m = self.set.system().head_m(self.month, flow_m3_s);
        let ratio = match pump.head_terms() {
            Some([shut_off_m, b, c]) => {
                let half = b * flow_m3_s / (2.0 * shut_off_m);
                let rest = (head_m - c * flow_m3_s * flow_m3_s) / shut_off_m;
                (half * half + rest.max(0.0)).sqrt() - half
            }
            None => pump.ratio(flow_m3_s, head_m),
        };
        let motor_w = motor.input_w(pump.shaft_power_w(flow_m3_s, ratio), ratio);
        let cable_w = self.motor_cable_loss * motor_w * motor_w / motor.rated_input_w();
        Some(Work {
            hz: ratio * motor.rated_frequency_hz(),
            flow_m3_s,
            motor_w,
            cable_w,
            loss_w: drive.losses().loss_w(motor_w + cable_w),
        })
    }

    /// The set at a frequency; `None` where there is no flow.
    pub(super) fn at_hz(&self, hz: f64) -> Option<Work> {
        let point = self.set.drive_point(self.month, hz)?;
        Some(Work {
            hz,
            flow_m3_s: point.duty.flow_m3_s,
            motor_w: point.duty.motor_w,
            cable_w: point.duty.cable_w,
            loss_w: point.drive_loss_w,
        })
    }

    /// Input of the drive at a frequency \[W\].
    pub(super) fn dc_w(&self, hz: f64) -> f64 {
        self.at_hz(hz).map_or(f64::INFINITY, |work| work.dc_w())
    }

    /// The set at an input of the drive, from its start frequency upwards.
    pub(super) fn at_power(&self, dc_w: f64) -> Option<Work> {
        let start = self.start?;
        let excess = |flow_m3_s: f64| self.at_flow(flow_m3_s).map_or(0.0, |w| w.dc_w() / dc_w - 1.0);
        let top_m3_s = self.greatest_flow_m3_s;
        if excess(top_m3_s) <= 0.0 {
            return self.at_flow(top_m3_s);
        }
        if excess(start.flow_m3_s) >= 0.0 {
            return Some(start);
        }
        self.at_flow(root::bracketed(start.flow_m3_s, top_m3_s, excess)?)
    }

    /// The point, between its start and `top`, at which a function of the operating point is 0.
    pub(super) fn where_zero(&self, top: Work, of: impl Fn(Work) -> f64) -> Option<Work> {
        let start = self.start?;
        let at = |flow_m3_s: f64| self.at_flow(flow_m3_s).map_or(0.0, &of);
        self.at_flow(root::bracketed(start.flow_m3_s, top.flow_m3_s, at)?)
    }
}
