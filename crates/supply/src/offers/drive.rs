//! The pump on its drive: the limits in order, then the point at which it runs.

use daylift_array::{CableLoss, greatest_frequency_hz};
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
        let mut ladder = limit(&offered, dc, feeding, column, step);
        cap(
            &mut ladder,
            LossCause::DriveLimit,
            column.drive_limit(),
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
        limit(&offered, dc, feeding, column, step)
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

/// Applies the limits of tracking, well, start and voltage.
fn limit(offered: &Offered, dc: &DcYear, feeding: &Feeding<'_>, column: &MapColumn, step: usize) -> Ladder {
    let cable = offered.cable;
    let mut ladder = Ladder::new(offered.power_w);
    ladder.cut_to(LossCause::Tracking, offered.tracked_w);
    let wanted_hz = column.wanted_hz();
    cap(&mut ladder, LossCause::WellLimit, column.well_limit(), cable, column);
    let start_w = cable.sent_w(column.at_start().dc_w);
    if ladder.power_w < start_w || column.start_hz() > column.greatest_hz().min(wanted_hz) {
        ladder.cut_to(LossCause::BelowStart, 0.0);
    }
    if ladder.power_w > 0.0 {
        let ceiling_hz = column.drive_limit().map_or(wanted_hz, |limit| limit.hz.min(wanted_hz));
        let least_bus_v = offered.least_v * (1.0 - cable.fraction(offered.power_w));
        let needs_v = |hz: f64| column.bus_v_per_hz() * hz;
        let by_power_hz = || {
            let device_w = cable.delivered_w(ladder.power_w);
            if device_w >= column.at_wanted().dc_w {
                ceiling_hz
            } else {
                column.hz_for_power(device_w).min(ceiling_hz)
            }
        };
        // The curves are needed only when the bus voltage must be above the maximum-power voltage.
        let hz_max = (needs_v(ceiling_hz) > least_bus_v).then(by_power_hz);
        if let Some(hz_max) = hz_max.filter(|hz| needs_v(*hz) > least_bus_v) {
            let strings = feeding.on_bus(dc, step);
            let hz = greatest_frequency_hz(&strings, column.bus_v_per_hz(), hz_max, |hz| {
                // Below its start the pump would not turn. The power at its start avoids a jump in the function.
                column.power_at_hz_w(hz.max(column.start_hz()))
            });
            if hz < hz_max {
                let limit = Limit {
                    hz,
                    dc_w: column.power_at_hz_w(hz),
                };
                cap(&mut ladder, LossCause::VoltageLimitedSpeed, Some(limit), cable, column);
            }
        }
    }
    ladder
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
