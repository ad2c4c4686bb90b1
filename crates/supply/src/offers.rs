//! What each device would make of the array's power in each step: solved before the loop, shared by all arrangements.

use daylift_array::{Curve, Inverter, StringGroup};
use daylift_lift::{MapColumn, PumpMap, PumpSet};

use crate::cause::{LossCause, ShortfallCause};
use crate::dc::DcYear;
use crate::limits::{Cuts, Ladder};
use crate::voltage::greatest_frequency_hz;

/// The pump on its drive in one step, if it runs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DriveOffer {
    /// Drawn from the array \[W\].
    pub array_w: f64,
    /// Lost in the DC cables \[W\].
    pub dc_cable_w: f64,
    /// Lost in the drive \[W\].
    pub drive_loss_w: f64,
    /// Lost in the motor cable \[W\].
    pub motor_cable_w: f64,
    /// At the motor's terminals \[W\].
    pub motor_w: f64,
    /// Flow \[m³/s\]; 0 when it cannot start.
    pub flow_m3_s: f64,
    /// Frequency \[Hz\].
    pub hz: f64,
    /// What was left in the array, and why.
    pub cuts: Cuts,
    /// What keeps the pump from giving more water.
    pub held_back_by: ShortfallCause,
}

impl DriveOffer {
    /// A pump that stands.
    #[must_use]
    pub fn standing(cuts: Cuts) -> Self {
        Self {
            array_w: 0.0,
            dc_cable_w: 0.0,
            drive_loss_w: 0.0,
            motor_cable_w: 0.0,
            motor_w: 0.0,
            flow_m3_s: 0.0,
            hz: 0.0,
            cuts,
            held_back_by: held_back_by(&cuts),
        }
    }
}

/// The last limit that cut anything is the one that binds; without any it was the sun.
fn held_back_by(cuts: &Cuts) -> ShortfallCause {
    match cuts.parts().last().map(|(cause, _)| *cause) {
        Some(LossCause::WellLimit) => ShortfallCause::WellLimit,
        Some(LossCause::VoltageLimitedSpeed) => ShortfallCause::VoltageLimitedSpeed,
        Some(LossCause::PumpAtFullSpeed | LossCause::DriveLimit) => ShortfallCause::PumpTooSlow,
        _ => ShortfallCause::TooLittleSun,
    }
}

/// The inverter in one step, as if the bus took everything.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct BusOffer {
    /// Drawn from the array \[W\].
    pub array_w: f64,
    /// Arriving at the bus \[W\].
    pub bus_w: f64,
    /// What was left in the array, and why.
    pub cuts: Cuts,
}

/// The pump on mains in a month.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Mains {
    /// Flow \[m³/s\].
    pub flow_m3_s: f64,
    /// Power at the motor's terminals \[W\].
    pub motor_w: f64,
    /// Lost in the motor cable \[W\].
    pub cable_w: f64,
    /// Whether the well holds the flow back.
    pub throttled: bool,
}

impl Mains {
    /// Power taken from the bus \[W\].
    #[must_use]
    pub fn bus_w(&self) -> f64 {
        self.motor_w + self.cable_w
    }
}

/// Inverter with the strings that feed it.
#[derive(Debug, Clone)]
pub struct BusPath {
    /// The strings.
    pub group: StringGroup,
    /// The inverter.
    pub inverter: Inverter,
}

impl BusPath {
    /// Array power \[W\] that brings a power to the bus \[W\].
    #[must_use]
    pub fn array_for_bus_w(&self, bus_w: f64) -> f64 {
        if bus_w <= 0.0 {
            return 0.0;
        }
        let dc_w = self.inverter.dc_for_ac_w(self.inverter.ac_for_bus_w(bus_w));
        self.group.array_power_for_device_w(dc_w)
    }

    /// Losses on the way of `array_w` to the bus: (conversion, cables) \[W\].
    #[must_use]
    pub fn losses_w(&self, array_w: f64, bus_w: f64) -> (f64, f64) {
        if bus_w <= 0.0 {
            return (0.0, 0.0);
        }
        let ac_w = self.inverter.ac_for_bus_w(bus_w);
        let dc_cable_w = array_w - self.group.device_power_w(array_w);
        (self.inverter.losses().loss_w(ac_w), dc_cable_w + (ac_w - bus_w))
    }
}

/// Everything that the loop looks up by step or month.
#[derive(Debug, Clone)]
pub struct Offers {
    /// Power at the maximum-power point in each step \[W\]; empty without an array.
    pub available_w: Vec<f64>,
    /// The pump on its drive in each step; empty without a drive.
    pub drive: Vec<DriveOffer>,
    /// The inverter in each step; empty without one.
    pub bus: Vec<BusOffer>,
    /// How the array reaches the bus.
    pub bus_path: Option<BusPath>,
    /// The pump on mains in each month.
    pub mains: [Mains; 12],
}

impl Offers {
    /// Solves every device in every step. Give no `dc` for a plant without an array.
    #[must_use]
    pub fn new(array: Option<(&DcYear, &StringGroup)>, inverter: Option<&Inverter>, set: &PumpSet) -> Self {
        let mains = std::array::from_fn(|month| mains_of(set, month));
        let Some((dc, group)) = array else {
            return Self {
                available_w: Vec::new(),
                drive: Vec::new(),
                bus: Vec::new(),
                bus_path: None,
                mains,
            };
        };
        let bus_path = inverter.map(|inverter| BusPath {
            group: group.clone(),
            inverter: inverter.clone(),
        });
        let steps = 0..dc.available_w.len();
        let drive = PumpMap::new(set).map_or_else(Vec::new, |map| {
            steps
                .clone()
                .map(|i| drive_offer(dc, group, map.month(usize::from(dc.month[i])), i))
                .collect()
        });
        let bus = bus_path
            .as_ref()
            .map_or_else(Vec::new, |path| steps.map(|i| bus_offer(dc, path, i)).collect());
        Self {
            available_w: dc.available_w.clone(),
            drive,
            bus,
            bus_path,
            mains,
        }
    }
}

fn mains_of(set: &PumpSet, month: usize) -> Mains {
    set.mains(month).map_or_else(Mains::default, |point| Mains {
        flow_m3_s: point.duty.flow_m3_s,
        motor_w: point.duty.motor_w,
        cable_w: point.duty.cable_w,
        throttled: point.throttled,
    })
}

/// The drive's limits in their order, then the point at which it runs.
fn drive_offer(dc: &DcYear, group: &StringGroup, column: &MapColumn, step: usize) -> DriveOffer {
    let available_w = dc.available_w[step];
    if available_w <= 0.0 {
        return DriveOffer::standing(Cuts::default());
    }
    let mut ladder = Ladder::new(available_w);
    let array_w = |hz: f64| group.array_power_for_device_w(column.at_hz(hz).dc_w);
    let wanted_hz = column.wanted_hz();
    let cap = |ladder: &mut Ladder, cause, limit_hz: f64| {
        if limit_hz < wanted_hz {
            ladder.hold(
                cause,
                if limit_hz < column.start_hz() {
                    0.0
                } else {
                    array_w(limit_hz)
                },
            );
        }
    };
    if let Some(hz) = column.well_limit_hz() {
        cap(&mut ladder, LossCause::WellLimit, hz);
    }
    if ladder.power_w < array_w(column.start_hz()) || column.start_hz() > column.greatest_hz().min(wanted_hz) {
        ladder.hold(LossCause::BelowStart, 0.0);
    }
    if ladder.power_w > 0.0 {
        let mut hz_max = column.hz_for_power(group.device_power_w(ladder.power_w)).min(wanted_hz);
        if let Some(limit_hz) = column.drive_limit_hz() {
            hz_max = hz_max.min(limit_hz);
        }
        // The curve is needed only where the bus must stand above the maximum-power voltage.
        if column.bus_v_per_hz() * hz_max > dc.max_power_v[step] * (1.0 - group.cable_fraction(available_w)) {
            let curve: Curve = dc.curve(group, step);
            let hz = greatest_frequency_hz(&curve, group, column.bus_v_per_hz(), hz_max, |hz| {
                // Below the start the pump would not turn; its start's power keeps the rule free of a jump.
                column.at_hz(hz.max(column.start_hz())).dc_w
            });
            if hz < hz_max {
                cap(&mut ladder, LossCause::VoltageLimitedSpeed, hz);
            }
        }
    }
    if let Some(hz) = column.drive_limit_hz() {
        cap(&mut ladder, LossCause::DriveLimit, hz);
    }
    ladder.hold(LossCause::PumpAtFullSpeed, array_w(wanted_hz));
    run_at(&mut ladder, group, column)
}

fn run_at(ladder: &mut Ladder, group: &StringGroup, column: &MapColumn) -> DriveOffer {
    let array_w = ladder.power_w;
    let device_w = group.device_power_w(array_w);
    // A hair of rounding must not put a pump that has just the power of its start to rest.
    let hz = column.hz_for_power(device_w).max(column.start_hz());
    let point = column.at_hz(hz);
    if array_w <= 0.0 || point.flow_m3_s <= 0.0 {
        // Where flow only begins, power would be spent for no water: the controller sleeps.
        ladder.hold(LossCause::BelowStart, 0.0);
        return DriveOffer::standing(ladder.cuts);
    }
    DriveOffer {
        array_w,
        dc_cable_w: array_w - device_w,
        drive_loss_w: point.drive_loss_w,
        motor_cable_w: point.cable_w,
        motor_w: point.motor_w,
        flow_m3_s: point.flow_m3_s,
        hz,
        cuts: ladder.cuts,
        held_back_by: held_back_by(&ladder.cuts),
    }
}

/// The inverter's limits in their order.
fn bus_offer(dc: &DcYear, path: &BusPath, step: usize) -> BusOffer {
    let available_w = dc.available_w[step];
    if available_w <= 0.0 {
        return BusOffer::default();
    }
    let (group, inverter) = (&path.group, &path.inverter);
    let mut ladder = Ladder::new(available_w);
    if !inverter.feeds(group.device_power_w(available_w)) {
        ladder.hold(LossCause::BelowStart, 0.0);
    }
    let (least_v, greatest_v) = (inverter.sheet().mppt_min_v, inverter.sheet().mppt_max_v);
    if !(least_v..=greatest_v).contains(&dc.max_power_v[step]) {
        let held_w = dc.curve(group, step).power_at_window(least_v, greatest_v);
        ladder.hold(LossCause::MpptWindow, held_w);
    }
    ladder.hold(
        LossCause::InverterClipping,
        group.array_power_for_device_w(inverter.clip_dc_w()),
    );
    let bus_w = inverter.bus_w(inverter.ac_w(group.device_power_w(ladder.power_w)));
    if bus_w <= 0.0 {
        // What does not cover the inverter's own fixed loss was never fed.
        ladder.hold(LossCause::BelowStart, 0.0);
    }
    BusOffer {
        array_w: ladder.power_w,
        bus_w,
        cuts: ladder.cuts,
    }
}
