//! The inverter: its limits in order, as if the bus took everything.

use daylift_array::{CableLoss, Inverter};

use crate::cause::LossCause;
use crate::dc::DcYear;
use crate::limits::{Cuts, Ladder};
use crate::strings::Feeding;

/// An inverter in one step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BusOffer {
    /// Drawn from the array \[W\].
    pub array_w: f64,
    /// Arriving at the bus \[W\].
    pub bus_w: f64,
    /// What it draws and loses when the bus takes everything.
    pub whole: Draw,
    /// The DC cables of its strings, as one.
    pub cable: CableLoss,
    /// The array power left unused, by cause.
    pub cuts: Cuts,
}

/// What an inverter draws and loses to bring a certain power to the bus.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Draw {
    /// Drawn from the array \[W\].
    pub array_w: f64,
    /// Lost in the inverter \[W\].
    pub conversion_w: f64,
    /// Lost in DC and AC cables \[W\].
    pub cables_w: f64,
}

impl BusOffer {
    /// An inverter without sun.
    const NO_SUN: Self = Self {
        array_w: 0.0,
        bus_w: 0.0,
        whole: Draw {
            array_w: 0.0,
            conversion_w: 0.0,
            cables_w: 0.0,
        },
        cable: CableLoss::NONE,
        cuts: Cuts::NONE,
    };

    /// The inverter in a step.
    pub(super) fn solve(dc: &DcYear, feeding: &Feeding<'_>, inverter: &Inverter, step: usize) -> Self {
        let offered = feeding.at_max_power(dc, step);
        if offered.power_w <= 0.0 {
            return Self::NO_SUN;
        }
        let mut ladder = Ladder::new(offered.power_w);
        ladder.cut_to(LossCause::Tracking, offered.tracked_w);
        let (least_v, greatest_v) = (inverter.sheet().mppt_min_v, inverter.sheet().mppt_max_v);
        let tracked = feeding.at_window(dc, step, least_v, greatest_v);
        let cable = tracked.cable;
        if !inverter.feeds(offered.cable.delivered_w(ladder.power_w)) {
            ladder.cut_to(LossCause::BelowStart, 0.0);
        }
        ladder.cut_to(LossCause::MpptWindow, tracked.power_w);
        ladder.cut_to(
            LossCause::InverterClipping,
            cable.sent_w(inverter.clip_dc_at_w(dc.air_c(step))),
        );
        let bus_w = inverter.bus_w(inverter.ac_w(cable.delivered_w(ladder.power_w)));
        if bus_w <= 0.0 {
            // Power that does not even cover the inverter's fixed loss is not fed.
            ladder.cut_to(LossCause::BelowStart, 0.0);
        }
        Self::of(inverter, ladder, bus_w, cable)
    }

    /// The offer of an inverter whose limits are in `limits` and that brings `bus_w` to the bus.
    #[must_use]
    pub fn of(inverter: &Inverter, limits: Ladder, bus_w: f64, cable: CableLoss) -> Self {
        let array_w = limits.power_w;
        Self {
            array_w,
            bus_w,
            whole: Draw::by(inverter, array_w, bus_w, cable),
            cable,
            cuts: limits.cuts,
        }
    }
}

impl Draw {
    /// For an inverter that draws `array_w` and brings `bus_w` to the bus; nothing unless `bus_w` is above 0.
    fn by(inverter: &Inverter, array_w: f64, bus_w: f64, cable: CableLoss) -> Self {
        if bus_w <= 0.0 {
            return Self::default();
        }
        let ac_w = inverter.ac_for_bus_w(bus_w);
        Self {
            array_w,
            conversion_w: inverter.losses().loss_w(ac_w),
            cables_w: (array_w - cable.delivered_w(array_w)) + (ac_w - bus_w),
        }
    }

    /// For an inverter that brings only a part of its offer: `bus_w` of `offered_w`. For the whole offer it draws `array_w`.
    pub(crate) fn part(inverter: &Inverter, [bus_w, offered_w]: [f64; 2], array_w: f64, cable: CableLoss) -> Self {
        let drawn_w = if bus_w < offered_w {
            cable.sent_w(inverter.dc_for_ac_w(inverter.ac_for_bus_w(bus_w))).min(array_w)
        } else {
            array_w
        };
        Self::by(inverter, drawn_w, bus_w, cable)
    }
}
