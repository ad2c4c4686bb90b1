//! The pump on its drive while mains is on the drive's second input.

use daylift_array::{CableLoss, HeldBus, held_bus};
use daylift_lift::{MapColumn, MapPoint};
use daylift_plant::{InputKind, SecondInput};

use crate::cause::{LossCause, ShortfallCause};
use crate::dc::DcYear;
use crate::limits::Ladder;
use crate::offers::drive::{DriveOffer, cap};
use crate::strings::Feeding;

/// A set in one step: what feeds it, and its limits.
#[derive(Clone, Copy)]
pub(super) struct AtStep<'a> {
    pub(super) dc: &'a DcYear,
    pub(super) feeding: &'a Feeding<'a>,
    /// The set on the sun.
    pub(super) column: &'a MapColumn,
    /// The set while the rectifier holds the drive's bus.
    pub(super) held: &'a MapColumn,
    pub(super) step: usize,
}

impl AtStep<'_> {
    /// The set with mains on its second input; `alone` is its offer on the sun alone.
    pub(super) fn with_mains(&self, input: &SecondInput, alone: &DriveOffer) -> DriveOffer {
        let column = self.held;
        let top_hz = column.top_hz(self.by_heat());
        let wanted = input.wanted_speed[self.dc.clock.hour[self.step]];
        let hour_hz = (wanted * column.wanted_hz()).min(top_hz);
        if column.at_hz(hour_hz).flow_m3_s <= 0.0 {
            return *alone;
        }
        match input.kind {
            InputKind::Switch { takes_over_below } => {
                let sun_runs = alone.flow_m3_s > 0.0 && alone.hz >= takes_over_below * hour_hz;
                if sun_runs { *alone } else { self.switched(hour_hz) }
            }
            InputKind::Blend { .. } => {
                let rated_v = input.kind.rectified_v(0.0);
                self.blended(hour_hz, top_hz, rated_v)
            }
        }
    }

    /// The share of its rating that the drive keeps in the heat of the step.
    fn by_heat(&self) -> f64 {
        self.held.kept_in_air(self.dc.air_c(self.step))
    }

    /// Mains alone runs the set; the power of the array is held off.
    fn switched(&self, hour_hz: f64) -> DriveOffer {
        let mut limits = DriveOffer::limits_before_mains(self.dc, self.feeding, self.column, self.step);
        limits.cut_to(LossCause::HeldOffByGrid, 0.0);
        self.running(limits, &HeldBus::default(), hour_hz)
    }

    /// The rectifier keeps the bus at `held_v` or above.
    fn blended(&self, hour_hz: f64, top_hz: f64, held_v: f64) -> DriveOffer {
        let column = self.held;
        let offered = self.feeding.at_max_power(self.dc, self.step);
        let cable = offered.cable;
        let mut limits = Ladder::new(offered.power_w);
        limits.cut_to(LossCause::Tracking, offered.tracked_w);
        let most = HeldBus {
            sent_w: limits.power_w,
            delivered_w: cable.delivered_w(limits.power_w),
        };
        let needed_w = |hz: f64| column.power_at_hz_w(hz);
        let holds_off = offered.power_w > 0.0 && offered.least_v * (1.0 - cable.fraction(offered.power_w)) < held_v;
        // Solved only when its result is needed.
        let held = || {
            let held = held_bus(&self.feeding.on_bus(self.dc, self.step), held_v);
            if held.sent_w < most.sent_w { held } else { most }
        };
        let greatest = if holds_off { held() } else { most };
        cap(&mut limits, LossCause::WellLimit, column.well_limit(), cable, column);
        if needed_w(top_hz) <= greatest.delivered_w {
            cap(
                &mut limits,
                LossCause::DriveLimit,
                column.drive_limit_by_heat(self.by_heat()),
                cable,
                column,
            );
            limits.cut_to(LossCause::PumpAtFullSpeed, cable.sent_w(needed_w(top_hz)));
            return self.sun_alone(limits, cable, top_hz, ShortfallCause::PumpTooSlow);
        }
        if needed_w(hour_hz) <= greatest.delivered_w {
            limits.cut_to(LossCause::HeldOffByGrid, greatest.sent_w);
            let hz = column.hz_for_power(cable.delivered_w(limits.power_w)).min(top_hz);
            // The cables of the groups, one by one and taken as one, may differ by rounding.
            limits.cut_to(LossCause::HeldOffByGrid, cable.sent_w(needed_w(hz)));
            return self.sun_alone(limits, cable, hz.max(column.start_hz()), ShortfallCause::TooLittleSun);
        }
        let held = if holds_off { greatest } else { held() };
        limits.cut_to(LossCause::HeldOffByGrid, held.sent_w);
        self.running(limits, &held, hour_hz)
    }

    /// The set on the sun alone, with the bus above the rectifier's voltage.
    fn sun_alone(&self, limits: Ladder, cable: CableLoss, hz: f64, held_back_by: ShortfallCause) -> DriveOffer {
        let point = self.held.at_hz(hz);
        DriveOffer {
            dc_cable_w: limits.power_w - cable.delivered_w(limits.power_w),
            held_back_by: self.held_back_by(hz, held_back_by),
            ..offer(limits, &point)
        }
    }

    /// The set on array and mains together at a frequency. The array gives what the rectifier's voltage allows.
    fn running(&self, limits: Ladder, held: &HeldBus, hz: f64) -> DriveOffer {
        let point = self.held.at_hz(hz);
        let device_w = held.delivered_w.min(point.dc_w);
        DriveOffer {
            dc_cable_w: limits.power_w - device_w,
            mains_w: point.dc_w - device_w,
            held_back_by: self.held_back_by(hz, ShortfallCause::PumpTooSlow),
            ..offer(limits, &point)
        }
    }

    fn held_back_by(&self, hz: f64, else_by: ShortfallCause) -> ShortfallCause {
        match self.held.well_limit().map(|limit| limit.hz) {
            Some(well_hz) if well_hz < self.held.wanted_hz() && hz >= well_hz => ShortfallCause::WellLimit,
            _ => else_by,
        }
    }
}

fn offer(limits: Ladder, point: &MapPoint) -> DriveOffer {
    DriveOffer {
        available_w: limits.power_w + limits.cuts.total_w(),
        array_w: limits.power_w,
        dc_cable_w: 0.0,
        mains_w: 0.0,
        drive_loss_w: point.drive_loss_w,
        motor_cable_w: point.cable_w,
        motor_w: point.motor_w,
        flow_m3_s: point.flow_m3_s,
        hz: point.hz,
        cuts: limits.cuts,
        held_back_by: ShortfallCause::PumpTooSlow,
    }
}
