//! The pump on its drive: the limits in order, then the point at which it runs.

use daylift_array::{BusNeed, CableLoss, FluxLoad, greatest_at_flux};
use daylift_lift::{Limit, MapColumn, MapPoint};

use crate::cause::{LossCause, ShortfallCause};
use crate::dc::DcYear;
use crate::limits::{Cuts, Ladder};
use crate::offers::mains::Mains;
use crate::strings::{Feeding, Offered};

/// The pump on its drive in one step, for the case that water is wanted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DriveOffer {
    /// Offered by its string groups \[W\].
    pub available_w: f64,
    /// Drawn from the array \[W\].
    pub array_w: f64,
    /// Lost in the DC cables \[W\].
    pub dc_cable_w: f64,
    /// Drawn from mains on the second input \[W\].
    pub mains_w: f64,
    /// Lost in the drive \[W\].
    pub drive_loss_w: f64,
    /// Lost in the motor cable \[W\].
    pub motor_cable_w: f64,
    /// At the motor's terminals \[W\].
    pub motor_w: f64,
    /// Flow \[m³/s\]; 0 when the pump cannot start.
    pub flow_m3_s: f64,
    /// Frequency \[Hz\].
    pub hz: f64,
    /// The array power left unused, by cause.
    pub cuts: Cuts,
    /// Why the pump does not give more water.
    pub held_back_by: ShortfallCause,
}

impl DriveOffer {
    /// A pump that is stopped because there is no sun.
    const NO_SUN: Self = Self {
        available_w: 0.0,
        array_w: 0.0,
        dc_cable_w: 0.0,
        mains_w: 0.0,
        drive_loss_w: 0.0,
        motor_cable_w: 0.0,
        motor_w: 0.0,
        flow_m3_s: 0.0,
        hz: 0.0,
        cuts: Cuts::NONE,
        held_back_by: ShortfallCause::TooLittleSun,
    };

    /// A pump that is stopped, with the power available \[W\] and the cuts that left nothing of it.
    #[must_use]
    pub fn stopped(available_w: f64, cuts: Cuts) -> Self {
        Self {
            available_w,
            held_back_by: held_back_by(&cuts),
            cuts,
            ..Self::NO_SUN
        }
    }

    /// The drive in a step.
    pub(super) fn solve(dc: &DcYear, feeding: &Feeding<'_>, column: &MapColumn, step: usize) -> Self {
        let offered = feeding.at_max_power(dc, step);
        if offered.power_w <= 0.0 {
            return Self::NO_SUN;
        }
        let by_heat = column.kept_in_air(dc.air_c(step));
        let Limited { mut ladder, reduced } = limit(&offered, dc, feeding, column, step);
        if let Some(reduced) = reduced {
            let mut ladder = reduced.within_well(&offered, column);
            ladder.cut_to(reduced.cause, offered.cable.sent_w(reduced.point.dc_w));
            return run_at(offered.power_w, ladder, reduced.point.dc_w, reduced.point, column);
        }
        cap(
            &mut ladder,
            LossCause::DriveLimit,
            column.drive_limit_by_heat(by_heat),
            offered.cable,
            column,
        );
        let full_w = offered.cable.sent_w(column.at_wanted().dc_w);
        let device_w = offered.cable.delivered_w(ladder.power_w.min(full_w));
        let point = if ladder.cut_to(LossCause::PumpAtFullSpeed, full_w) {
            *column.at_wanted()
        } else {
            column.at_power(device_w)
        };
        run_at(offered.power_w, ladder, device_w, point, column)
    }

    /// Applies the limits that come before that of mains on the second input: tracking, well, start and voltage.
    pub(super) fn limits_before_mains(dc: &DcYear, feeding: &Feeding<'_>, column: &MapColumn, step: usize) -> Ladder {
        let offered = feeding.at_max_power(dc, step);
        if offered.power_w <= 0.0 {
            return Ladder::new(0.0);
        }
        let Limited { ladder, reduced } = limit(&offered, dc, feeding, column, step);
        let Some(reduced) = reduced else { return ladder };
        let mut ladder = reduced.within_well(&offered, column);
        if matches!(reduced.cause, LossCause::WellLimit | LossCause::VoltageLimitedSpeed) {
            ladder.cut_to(reduced.cause, offered.cable.sent_w(reduced.point.dc_w));
        }
        ladder
    }

    /// Mains' share of this offer, as a pump on the bus. Its flow is 0 here, because it is counted with the drive.
    #[must_use]
    pub fn on_mains(&self) -> Mains {
        let share = 1.0 - self.array_share();
        Mains {
            flow_m3_s: 0.0,
            motor_w: self.motor_w * share,
            lost_w: (self.drive_loss_w + self.motor_cable_w) * share,
            throttled: false,
        }
    }

    /// Share of the array in the power that reaches the drive's bus.
    #[must_use]
    pub fn array_share(&self) -> f64 {
        let from_array_w = self.array_w - self.dc_cable_w;
        let all_w = from_array_w + self.mains_w;
        if all_w > 0.0 { from_array_w / all_w } else { 0.0 }
    }
}

/// Applies a limit on the frequency. A limit at or above the wanted frequency cuts nothing.
pub(super) fn cap(ladder: &mut Ladder, cause: LossCause, limit: Option<Limit>, cable: CableLoss, column: &MapColumn) {
    if let Some(limit) = limit.filter(|limit| limit.hz < column.wanted_hz()) {
        let standing = limit.hz < column.start_hz();
        ladder.cut_to(cause, if standing { 0.0 } else { cable.sent_w(limit.dc_w) });
    }
}

/// The last limit that cut anything holds the pump back; without any cut it is the sun.
fn held_back_by(cuts: &Cuts) -> ShortfallCause {
    let Some((cause, _)) = cuts.parts().last() else {
        return ShortfallCause::TooLittleSun;
    };
    match cause {
        LossCause::WellLimit => ShortfallCause::WellLimit,
        LossCause::VoltageLimitedSpeed => ShortfallCause::VoltageLimitedSpeed,
        LossCause::PumpAtFullSpeed | LossCause::DriveLimit => ShortfallCause::PumpTooSlow,
        LossCause::BelowStart | LossCause::HeldOffByGrid => ShortfallCause::TooLittleSun,
        // These do not limit a drive.
        LossCause::GridDown
        | LossCause::IdleStrings
        | LossCause::Changeover
        | LossCause::WaitingToReconnect
        | LossCause::GridVoltageTrip
        | LossCause::StartLockout
        | LossCause::WaterNotWanted
        | LossCause::Tracking
        | LossCause::MpptWindow
        | LossCause::InverterClipping
        | LossCause::ExportLimit
        | LossCause::BatteryLimit
        | LossCause::InverterConversion
        | LossCause::DriveConversion
        | LossCause::BatteryConversion
        | LossCause::Cables => ShortfallCause::TooLittleSun,
    }
}

/// What tracking leaves.
fn tracked(offered: &Offered) -> Ladder {
    let mut ladder = Ladder::new(offered.power_w);
    ladder.cut_to(LossCause::Tracking, offered.tracked_w);
    ladder
}

/// What the limits of tracking, well, start and voltage leave.
struct Limited {
    ladder: Ladder,
    /// Where the bus voltage is too low for full flux, the point at which the set runs. The ladder does not count it.
    reduced: Option<Reduced>,
}

/// A set that runs with less than full flux.
struct Reduced {
    point: MapPoint,
    /// What keeps its frequency down, and so the cause of all that it leaves.
    cause: LossCause,
}

impl Reduced {
    /// What tracking and well leave; the well leaves no less than the set takes with its reduced flux.
    fn within_well(&self, offered: &Offered, column: &MapColumn) -> Ladder {
        let mut ladder = tracked(offered);
        let well = column.well_limit().map(|well| Limit {
            dc_w: well.dc_w.max(self.point.dc_w),
            ..well
        });
        cap(&mut ladder, LossCause::WellLimit, well, offered.cable, column);
        ladder
    }
}

/// Applies the limits of tracking, well, start and voltage.
fn limit(offered: &Offered, dc: &DcYear, feeding: &Feeding<'_>, column: &MapColumn, step: usize) -> Limited {
    let cable = offered.cable;
    let mut ladder = tracked(offered);
    let wanted_hz = column.wanted_hz();
    cap(&mut ladder, LossCause::WellLimit, column.well_limit(), cable, column);
    let start_w = cable.sent_w(column.at_start().dc_w);
    if ladder.power_w < start_w || column.start_hz() > column.greatest_hz().min(wanted_hz) {
        ladder.cut_to(LossCause::BelowStart, 0.0);
    }
    let mut reduced = None;
    if ladder.power_w > 0.0 {
        let by_heat = column.kept_in_air(dc.air_c(step));
        let drive_limit = column.drive_limit_by_heat(by_heat);
        let ceiling_hz = drive_limit.map_or(wanted_hz, |limit| limit.hz.min(wanted_hz));
        let least_bus_v = offered.least_v * (1.0 - cable.fraction(offered.power_w));
        let by_power_hz = || {
            let device_w = cable.delivered_w(ladder.power_w);
            if device_w >= column.at_wanted().dc_w {
                ceiling_hz
            } else {
                column.hz_for_power(device_w).min(ceiling_hz)
            }
        };
        // The curves are needed only when the bus voltage must be above the maximum-power voltage.
        let hz_max = (column.bus_need_v(ceiling_hz) > least_bus_v).then(by_power_hz);
        if let Some(hz_max) = hz_max.filter(|hz| column.bus_need_v(*hz) > least_bus_v) {
            let strings = feeding.on_bus(dc, step);
            let load = OnColumn { column, by_heat };
            let need = BusNeed {
                v_per_hz: column.bus_need_v(column.rated_hz()) / column.rated_hz(),
                flat_from_hz: column.rated_hz(),
            };
            let at = greatest_at_flux(&strings, offered.tracked_w, need, hz_max, &load);
            if at.hz < column.start_hz() {
                ladder.cut_to(LossCause::VoltageLimitedSpeed, 0.0);
            } else if at.hz < hz_max || at.flux < 1.0 {
                reduced = column.at_speed(at.hz).map(|set| Reduced {
                    point: set.at(at.flux),
                    cause: cause_of(at.hz, hz_max, ceiling_hz, column),
                });
            }
        }
    }
    Limited { ladder, reduced }
}

/// What keeps a set's frequency down that runs with less than full flux. `hz_max` is what power, well, rating and wish allow,
/// `ceiling_hz` what rating and wish do.
fn cause_of(hz: f64, hz_max: f64, ceiling_hz: f64, column: &MapColumn) -> LossCause {
    let reaches = |limit_hz: f64| hz >= limit_hz * (1.0 - SAME_HZ);
    if !reaches(hz_max) {
        LossCause::VoltageLimitedSpeed
    } else if column.well_limit().is_some_and(|well| reaches(well.hz)) {
        LossCause::WellLimit
    } else if !reaches(ceiling_hz) {
        // The power.
        LossCause::VoltageLimitedSpeed
    } else if ceiling_hz < column.wanted_hz() {
        LossCause::DriveLimit
    } else {
        LossCause::PumpAtFullSpeed
    }
}

/// Share within which two frequencies are the same.
const SAME_HZ: f64 = 1e-9;

/// A set as a load of the strings, in air that leaves the drive the share `by_heat` of its rating.
struct OnColumn<'a> {
    column: &'a MapColumn,
    by_heat: f64,
}

impl FluxLoad for OnColumn<'_> {
    // Below its start the pump would not turn. The power at its start avoids a jump in the function.
    fn power_w(&self, hz: f64, flux: f64) -> f64 {
        self.column.at_speed(hz).map_or(0.0, |at| at.input_w(flux))
    }

    fn least_flux(&self, hz: f64) -> f64 {
        self.column.at_speed(hz).map_or(1.0, |at| self.column.least_share(&at, self.by_heat))
    }
}

/// The drive at an operating point, with the power that the limits left. Of it, `device_w` arrives at the drive.
fn run_at(available_w: f64, mut ladder: Ladder, device_w: f64, point: MapPoint, column: &MapColumn) -> DriveOffer {
    let array_w = ladder.power_w;
    // Rounding must not stop a pump that has exactly the power of its start.
    let point = if point.hz < column.start_hz() {
        *column.at_start()
    } else {
        point
    };
    if array_w <= 0.0 || point.flow_m3_s <= 0.0 {
        // Exactly where flow begins, power would be spent without water: the controller waits.
        ladder.cut_to(LossCause::BelowStart, 0.0);
        return DriveOffer::stopped(available_w, ladder.cuts);
    }
    DriveOffer {
        available_w,
        array_w,
        dc_cable_w: array_w - device_w,
        mains_w: 0.0,
        drive_loss_w: point.drive_loss_w,
        motor_cable_w: point.cable_w,
        motor_w: point.motor_w,
        flow_m3_s: point.flow_m3_s,
        hz: point.hz,
        cuts: ladder.cuts,
        held_back_by: held_back_by(&ladder.cuts),
    }
}
