//! A pump set in a month; everything else follows from its flow and the flux of its motor.

use std::f64::consts::SQRT_2;
use std::rc::Rc;

use daylift_lift::{MainsPoint, PumpSet};
use daylift_units::{Month, root};

use super::devices::OfSet;
use super::least_flow::LeastFlow;
use super::motor::OnDrive;

/// Currents and powers that exceed a limit by no more than this share keep it.
const HAIR: f64 = 1e-9;

/// An operating point of the set on its drive.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Work {
    pub(super) hz: f64,
    pub(super) flow_m3_s: f64,
    pub(super) motor_w: f64,
    /// Lost in motor cable and filter.
    pub(super) cable_w: f64,
    pub(super) loss_w: f64,
}

impl Work {
    /// Input of the drive \[W\].
    pub(super) fn dc_w(&self) -> f64 {
        self.motor_w + self.cable_w + self.loss_w
    }

    /// The same for a share of the time.
    pub(super) fn times(&self, share: f64) -> Self {
        Self {
            hz: self.hz,
            flow_m3_s: self.flow_m3_s * share,
            motor_w: self.motor_w * share,
            cable_w: self.cable_w * share,
            loss_w: self.loss_w * share,
        }
    }
}

/// What the pump asks of its motor.
#[derive(Debug, Clone, Copy)]
pub(super) struct Duty {
    pub(super) hz: f64,
    ratio: f64,
    flow_m3_s: f64,
    shaft_w: f64,
}

/// What gives the motor its flux.
#[derive(Debug, Clone, Copy)]
pub(super) enum Bus {
    /// Enough voltage.
    Full,
    /// A bus held at this voltage \[V\].
    Held(f64),
}

/// A set, and its marks in a month.
#[derive(Debug)]
pub(super) struct Lift<'a> {
    set: &'a PumpSet,
    of_set: Rc<OfSet>,
    month: Month,
    motor: OnDrive,
    greatest_flow_m3_s: f64,
    pub(super) mains: Option<MainsPoint>,
    pub(super) well_hz: Option<f64>,
    pub(super) start_hz: f64,
    /// Where it starts, at full flux; `None` without a drive.
    pub(super) start: Option<Work>,
}

impl<'a> Lift<'a> {
    pub(super) fn new(set: &'a PumpSet, of_set: &Rc<OfSet>, month: Month) -> Self {
        let rated_in_w = set.motor().rated_input_w();
        let any = set.duty(month, 1.0);
        let cable_loss = any.map_or(0.0, |d| d.cable_w * rated_in_w / (d.motor_w * d.motor_w));
        let drive_w = set.drive().map_or(f64::INFINITY, daylift_lift::Drive::rated_power_w);
        let mut lift = Self {
            set,
            of_set: Rc::clone(of_set),
            month,
            motor: OnDrive::new(set.motor(), of_set, cable_loss, drive_w),
            greatest_flow_m3_s: 0.0,
            mains: set.mains(month),
            well_hz: set.well_limit_hz(month),
            start_hz: 0.0,
            start: None,
        };
        let rated_hz = set.motor().rated_frequency_hz();
        lift.greatest_flow_m3_s = lift.flow_m3_s(set.greatest_hz().max(rated_hz));
        let least = LeastFlow::new(set.pump(), of_set, rated_hz);
        let begins_hz = set.flow_begins_hz(month).max(set.motor().least_frequency_hz());
        lift.start_hz = least.start_hz(begins_hz, set.greatest_hz(), |hz| lift.flow_m3_s(hz));
        lift.start = lift.at_hz(lift.start_hz, Bus::Full).or_else(|| lift.at_flow(0.0, Bus::Full));
        lift
    }

    fn flow_m3_s(&self, hz: f64) -> f64 {
        let ratio = hz / self.set.motor().rated_frequency_hz();
        self.set.duty(self.month, ratio).map_or(0.0, |d| d.flow_m3_s)
    }

    pub(super) fn wanted_hz(&self) -> f64 {
        self.set.wanted_hz()
    }

    pub(super) fn least_flux(&self) -> f64 {
        self.of_set.least_flux
    }

    /// Bus voltage that full flux needs \[V\]; above the rated frequency, that of the motor as far weakened as it must be.
    pub(super) fn need_v(&self, hz: f64) -> f64 {
        let motor = self.set.motor();
        let drop = self.set.drive().map_or(0.0, daylift_lift::Drive::voltage_drop) + self.of_set.filter_drop;
        let rated_hz = motor.rated_frequency_hz();
        let up_to_hz = if self.of_set.weakens { hz.min(rated_hz) } else { hz };
        SQRT_2 * motor.rated_voltage_v() * (up_to_hz / rated_hz) * (1.0 + drop)
    }

    /// What full flux is at a frequency, as a share of the flux up to the rated one.
    fn weakened(&self, hz: f64) -> f64 {
        let rated_hz = self.set.motor().rated_frequency_hz();
        if self.of_set.weakens && hz > rated_hz {
            rated_hz / hz
        } else {
            1.0
        }
    }

    /// Voltage of the bus while mains holds it, where that limits the flux.
    pub(super) fn held_bus(&self, line_v: Option<f64>) -> Bus {
        let line_v = line_v.unwrap_or(self.set.motor().rated_voltage_v());
        if self.of_set.flux_on_mains {
            Bus::Held(daylift_lift::rectified_v(line_v))
        } else {
            Bus::Full
        }
    }

    /// The frequency above which a bus gives less than the least flux; infinite where there is none \[Hz\].
    pub(super) fn flux_hz(&self, bus: Bus) -> f64 {
        let Bus::Held(bus_v) = bus else { return f64::INFINITY };
        let rated_hz = self.set.motor().rated_frequency_hz();
        let rated_v = self.least_flux() * self.need_v(rated_hz);
        if self.of_set.weakens && bus_v >= rated_v {
            f64::INFINITY
        } else {
            rated_hz * bus_v / rated_v
        }
    }

    /// The pump at a flow: r from r²·H0 + b·r·Q + c·Q² = H(Q), from which the rest follows.
    pub(super) fn duty_at_flow(&self, flow_m3_s: f64) -> Duty {
        let pump = self.set.pump();
        let head_m = self.set.system().head_m(self.month, flow_m3_s);
        let ratio = match pump.head_terms() {
            Some([shut_off_m, b, c]) => {
                let half = b * flow_m3_s / (2.0 * shut_off_m);
                let rest = (head_m - c * flow_m3_s * flow_m3_s) / shut_off_m;
                (half * half + rest.max(0.0)).sqrt() - half
            }
            None => pump.ratio(flow_m3_s, head_m),
        };
        self.duty(flow_m3_s, ratio)
    }

    fn duty(&self, flow_m3_s: f64, ratio: f64) -> Duty {
        Duty {
            hz: ratio * self.set.motor().rated_frequency_hz(),
            ratio,
            flow_m3_s,
            shaft_w: self.set.pump().shaft_power_w(flow_m3_s, ratio),
        }
    }

    /// The set at a duty, with a share of the flux that the frequency allows; `None` without a drive.
    pub(super) fn work(&self, duty: Duty, share: f64) -> Option<Work> {
        let drive = self.set.drive()?;
        let flux = share * self.weakened(duty.hz);
        let motor_w = self.motor.input_w(duty.shaft_w, duty.ratio, flux);
        let cable_w = self.motor.feed_w(motor_w, flux);
        Some(Work {
            hz: duty.hz,
            flow_m3_s: duty.flow_m3_s,
            motor_w,
            cable_w,
            loss_w: drive.losses().loss_w(motor_w + cable_w),
        })
    }

    fn share(&self, hz: f64, bus: Bus) -> f64 {
        match bus {
            Bus::Full => 1.0,
            Bus::Held(bus_v) => (bus_v / self.need_v(hz)).min(1.0),
        }
    }

    pub(super) fn at_flow(&self, flow_m3_s: f64, bus: Bus) -> Option<Work> {
        let duty = self.duty_at_flow(flow_m3_s);
        self.work(duty, self.share(duty.hz, bus))
    }

    /// The set at a frequency; `None` where there is no flow.
    pub(super) fn at_hz(&self, hz: f64, bus: Bus) -> Option<Work> {
        let ratio = hz / self.set.motor().rated_frequency_hz();
        let flow_m3_s = if hz.is_finite() { self.flow_m3_s(hz) } else { 0.0 };
        if flow_m3_s <= 0.0 {
            return None;
        }
        let work = self.work(self.duty(flow_m3_s, ratio), self.share(hz, bus))?;
        Some(Work { hz, ..work })
    }

    /// Input of the drive at a frequency \[W\].
    pub(super) fn dc_w(&self, hz: f64, bus: Bus) -> f64 {
        self.at_hz(hz, bus).map_or(f64::INFINITY, |work| work.dc_w())
    }

    /// The set at an input of the drive, from its start frequency upwards.
    pub(super) fn at_power(&self, dc_w: f64, bus: Bus) -> Option<Work> {
        let start_m3_s = self.start?.flow_m3_s;
        let excess = |flow_m3_s: f64| self.at_flow(flow_m3_s, bus).map_or(0.0, |w| w.dc_w() / dc_w - 1.0);
        let top_m3_s = self.greatest_flow_m3_s;
        if excess(top_m3_s) <= 0.0 {
            return self.at_flow(top_m3_s, bus);
        }
        if excess(start_m3_s) >= 0.0 {
            return self.at_flow(start_m3_s, bus);
        }
        self.at_flow(root::bracketed(start_m3_s, top_m3_s, excess)?, bus)
    }

    /// The flow, between its start and `top`, at which a function of the flow is 0 \[m³/s\].
    pub(super) fn where_zero(&self, top: Work, of: impl Fn(f64) -> f64) -> Option<f64> {
        root::bracketed(self.start?.flow_m3_s, top.flow_m3_s, of)
    }

    /// The share of full flux that the currents need at a duty, with the drive derated; infinite where none is enough.
    pub(super) fn share_for_current(&self, duty: Duty, derating: f64) -> f64 {
        let most_a = self.motor.most_a(derating) * (1.0 + HAIR);
        self.motor.least_flux(duty.shaft_w, duty.ratio, most_a) / self.weakened(duty.hz)
    }

    /// The drive's limit: the lowest frequency that its output, its current or the motor's current allows at full flux.
    /// `None` where they allow all up to the maximum frequency, 0 where not even the start frequency \[Hz\].
    pub(super) fn rating_hz(&self, derating: f64) -> Option<f64> {
        let (start_hz, greatest_hz) = (self.start_hz, self.set.greatest_hz());
        let most_w = derating * self.set.drive()?.rated_power_w();
        let most_a = self.motor.most_a(derating);
        let over = |hz: f64| {
            let ratio = hz / self.set.motor().rated_frequency_hz();
            let duty = self.duty(self.flow_m3_s(hz), ratio);
            let amperes = self.motor.current_a(duty.shaft_w, ratio, self.weakened(hz));
            let watts = self.work(duty, 1.0).map_or(0.0, |work| work.motor_w + work.cable_w);
            // A drive that is derated to nothing allows nothing.
            let over = |value: f64, most: f64| if most > 0.0 { value / most - 1.0 } else { 1.0 };
            over(watts, most_w).max(if most_a.is_finite() {
                over(amperes, most_a)
            } else {
                -1.0
            })
        };
        if start_hz > greatest_hz || over(greatest_hz) <= 0.0 {
            return None;
        }
        if over(start_hz) > 0.0 {
            return Some(0.0);
        }
        root::bracketed(start_hz, greatest_hz, over)
    }
}
