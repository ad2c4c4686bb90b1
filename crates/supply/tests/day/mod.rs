//! A day worked by hand, the same for every arrangement (no published source).
//!
//! P(t) = 20·sin(π(t − 6)/12) kW from 6 h to 18 h; water wanted 6–18 h; lossless conversion; on mains 30 m³/h from 10 kW;
//! drive Q = 30·min(1, (P − 3)/9.5) m³/h, nothing below 3 kW, takes at most 12.5 kW; outage 10–12 h; the tank never
//! fills. Every day of the year is this day here, so that a year's mean is the day.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    dead_code,
    reason = "a test fails by panicking; each uses its part"
)]

use std::f64::consts::PI;
use std::sync::Arc;

use daylift_array::{CableLoss, Inverter, InverterSheet};
use daylift_grid::{Battery, Export, Interval, Loads, Outages};
use daylift_lift::{Demand, DemandSheet, Tank, TankSheet};
use daylift_plant::{Arrangement, DayHours, SwitchTimes};
use daylift_supply::limits::Ladder;
use daylift_supply::routes::{GroupParts, ScheduleInputs, schedule};
use daylift_supply::{
    Bounded, BusOffer, BusYear, DriveOffer, DriveYear, GeneratorRules, GroupYear, InverterOffers, LossCause, Mains,
    MonthBook, NoRecorder, Offers, SetOffers, Timeline, YearInputs, YearResult, run_year,
};
use daylift_units::{Axis, Step};

pub(crate) const KW: f64 = 1e3;
pub(crate) const KWH: f64 = 3.6e6;
pub(crate) const DAYS: f64 = 365.0;
pub(crate) const FULL_FLOW_M3_S: f64 = 30.0 / 3600.0;
const MAINS_KW: f64 = 10.0;

/// Mean of P over a step, so that the sun's energy does not depend on the step.
fn mean_power_w(start_s: f64, length_s: f64) -> f64 {
    let h = |s: f64| (s / 3600.0 % 24.0).clamp(6.0, 18.0);
    let (from, mut to) = (h(start_s), h(start_s + length_s));
    if to < from {
        to = 18.0;
    }
    let integral = |h: f64| -20.0 * KW * 12.0 / PI * (PI * (h - 6.0) / 12.0).cos();
    (integral(to) - integral(from)) * 3600.0 / length_s
}

fn lossless_inverter() -> Inverter {
    Inverter::new(InverterSheet {
        name: "lossless to 1e-12".into(),
        rated_w: 100.0 * KW,
        efficiency_points: vec![(1.0, 1.0 - 1e-12)],
        start_w: 0.0,
        mppt_min_v: 100.0,
        mppt_max_v: 1000.0,
        ac_cable_loss: 0.0,
    })
    .unwrap()
}

fn offers(axis: &Axis) -> Offers {
    let available_w: Vec<f64> = (0..axis.steps())
        .map(|i| mean_power_w(f64::from(u32::try_from(i).unwrap()) * axis.step_s(), axis.step_s()))
        .collect();
    let drive = available_w.iter().map(|&p| {
        let mut ladder = Ladder::new(p);
        if p < 3.0 * KW {
            ladder.hold(LossCause::BelowStart, 0.0);
        }
        ladder.hold(LossCause::PumpAtFullSpeed, 12.5 * KW);
        let taken_w = ladder.power_w;
        DriveOffer {
            array_w: taken_w,
            motor_w: taken_w,
            flow_m3_s: if taken_w > 0.0 {
                FULL_FLOW_M3_S * ((taken_w - 3.0 * KW) / (9.5 * KW)).min(1.0)
            } else {
                0.0
            },
            ..DriveOffer::standing(p, ladder.cuts)
        }
    });
    let lossless = lossless_inverter();
    let none = CableLoss::new(0.0, 1.0);
    let bus = available_w
        .iter()
        .map(|&w| BusOffer::of(&lossless, Ladder::new(w), w * (1.0 - 1e-12), none));
    let per_hour = axis.steps_per_hour();
    let bus = BusYear::new(bus, per_hour);
    let mains = Mains {
        flow_m3_s: FULL_FLOW_M3_S,
        motor_w: MAINS_KW * KW,
        lost_w: 0.0,
        throttled: false,
    };
    Offers {
        groups: vec![Arc::new(GroupYear {
            max_power_v: vec![0.0; available_w.len()],
            available_w: Bounded::new(available_w.clone(), per_hour),
        })],
        sets: vec![Arc::new(SetOffers {
            drive: Some(DriveYear::new(drive, per_hour)),
            with_mains: None,
            mains: [mains; 12],
        })],
        inverters: vec![Arc::new(InverterOffers {
            inverter: lossless_inverter(),
            group: 0,
            bus,
        })],
    }
}

#[derive(Clone, Copy)]
pub(crate) struct Delays {
    pub(crate) to_drive_s: f64,
    pub(crate) grid_stable_s: f64,
    pub(crate) to_mains_s: f64,
    pub(crate) reconnection_s: f64,
}

pub(crate) const NONE: Delays = Delays {
    to_drive_s: 0.0,
    grid_stable_s: 0.0,
    to_mains_s: 0.0,
    reconnection_s: 0.0,
};

/// What the day is run with.
pub(crate) struct Day<'a> {
    pub(crate) delays: Delays,
    pub(crate) step: Step,
    pub(crate) export: Export,
    pub(crate) battery: Option<&'a Battery>,
    pub(crate) generator: Option<GeneratorRules<'a>>,
}

impl Day<'_> {
    pub(crate) fn plain(delays: Delays, step: Step) -> Self {
        Self {
            delays,
            step,
            export: Export::paid([[1e-8; 24]; 12]),
            battery: None,
            generator: None,
        }
    }

    /// A year of such days.
    pub(crate) fn year(&self, arrangement: Arrangement) -> YearResult {
        let axis = Axis::new(2025, 365, 0, "UTC", self.step).unwrap();
        let offers = offers(&axis);
        let intervals = (0..365)
            .map(|d| Interval {
                start_s: f64::from(d) * 86_400.0 + 10.0 * 3600.0,
                end_s: f64::from(d) * 86_400.0 + 12.0 * 3600.0,
            })
            .collect();
        let (outages, _) = Outages::new(intervals, axis.length_s());
        let inputs = ScheduleInputs {
            outages: &outages,
            mains_hours: DayHours::between(6, 18),
            switch_times: SwitchTimes {
                to_drive_s: self.delays.to_drive_s,
                grid_stable_s: self.delays.grid_stable_s,
                to_mains_s: self.delays.to_mains_s,
            },
            generator_delay_s: 0.0,
            reconnection_s: &[self.delays.reconnection_s],
            groups: &[GroupParts {
                inverter: Some(0),
                drive: true,
            }],
            set_has_drive: &[true],
        };
        // Demand exceeds what can be pumped, so that the tank never fills and the low mark is met only at an empty tank:
        // demand stops with the sun, when pumping on mains ends too.
        let tank = Tank::new(TankSheet {
            capacity_m3: 1e6,
            restart_level: 0.9,
            low_mark: 0.0,
        })
        .unwrap();
        let demand = Demand::new(DemandSheet {
            daily_m3: [480.0; 12],
            hour_share: std::array::from_fn(|h| if (6..18).contains(&h) { 1.0 } else { 0.0 }),
        })
        .unwrap();
        let schedule = schedule(arrangement, &inputs);
        let result = run_year(
            &YearInputs {
                axis: &axis,
                routes: &schedule.routes,
                timeline: &Timeline::new(&axis, &schedule.phases, 3600.0),
                offers: &offers,
                tank: &tank,
                demand: &demand,
                loads: &Loads::none(),
                backed_up: &Loads::none(),
                generator_loads: &Loads::none(),
                export: &self.export,
                battery: self.battery,
                generator: self.generator,
                sun_to_pump_first: true,
            },
            &mut NoRecorder,
        );
        assert!(result.residuals.energy < 1e-9 && result.residuals.water < 1e-9 && result.residuals.hours < 1e-9);
        result
    }

    /// The account of the year.
    pub(crate) fn book(&self, arrangement: Arrangement) -> MonthBook {
        self.year(arrangement).ledger.year()
    }
}

pub(crate) fn near(ours: f64, worked: f64) {
    assert!(
        (ours / worked - 1.0).abs() <= 1e-3,
        "{ours} against {worked} worked by hand"
    );
}
