//! A day worked by hand, the same for every arrangement (no published source).
//!
//! - Sun: P(t) = 20·sin(π(t − 6)/12) kW from 6 h to 18 h; conversion without losses.
//! - Mains: 30 m³/h from 10 kW. Drive: Q = 30·min(1, (P − 3)/9.5) m³/h, nothing below 3 kW; it takes at most 12.5 kW.
//! - Outage from 10 h to 12 h. Water is wanted from 6 h to 18 h, and the tank never fills.
//!
//! Every day of the year is this day, so that the mean of the year is the day.

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
use daylift_lift::{Demand, DemandSheet, StartRule, Tank, TankSheet};
use daylift_plant::{Arrangement, DayHours, SwitchTimes};
use daylift_supply::limits::Ladder;
use daylift_supply::routes::{GroupParts, RestartByHand, ScheduleInputs, schedule};
use daylift_supply::{
    Bounded, BusOffer, BusYear, DriveOffer, DriveYear, Flow, GeneratorRules, GroupYear, InverterOffers, LossCause,
    Mains, MonthBook, Offers, Piece, Recorder, SetOffers, Timeline, YearInputs, YearResult, run_year,
};
use daylift_units::{Axis, Hourly, MonthHour, Monthly, Step};
use typed_index_collections::{TiSlice, ti_vec};

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

/// The sun's power at the array \[kW\].
#[derive(Debug, Clone)]
pub(crate) enum Sun {
    /// P(t) of the day above.
    Sine,
    /// Power in the first and in the second half of every hour.
    Halves(Vec<(f64, f64)>),
}

impl Sun {
    /// The same power at all times.
    pub(crate) fn always(kw: f64) -> Self {
        Self::by_hours(|_| (kw, kw))
    }

    /// Power in both halves of each hour of the day.
    pub(crate) fn by_hours(kw: impl Fn(u8) -> (f64, f64)) -> Self {
        Self::Halves((0..24).map(kw).collect())
    }

    fn mean_power_w(&self, start_s: f64, length_s: f64) -> f64 {
        let Self::Halves(kw) = self else {
            return mean_power_w(start_s, length_s);
        };
        let (hour, of_hour) = ((start_s / 3600.0 % 24.0).floor(), start_s / 3600.0 % 1.0);
        let (first, second) = kw[(0..24_u8).position(|h| f64::from(h) >= hour).unwrap()];
        if length_s > 1800.0 {
            0.5 * (first + second) * KW
        } else if of_hour < 0.4999 {
            first * KW
        } else {
            second * KW
        }
    }
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

fn offers(axis: &Axis, day: &Day<'_>) -> Offers {
    let available_w: Vec<f64> = (0..axis.steps())
        .map(|i| day.sun.mean_power_w(f64::from(u32::try_from(i).unwrap()) * axis.step_s(), axis.step_s()))
        .collect();
    let drive = available_w.iter().map(|&p| {
        let mut ladder = Ladder::new(p);
        if p < 3.0 * KW {
            ladder.cut_to(LossCause::BelowStart, 0.0);
        }
        ladder.cut_to(LossCause::PumpAtFullSpeed, 12.5 * KW);
        let taken_w = ladder.power_w;
        let offer = DriveOffer {
            array_w: taken_w,
            motor_w: taken_w,
            flow_m3_s: if taken_w > 0.0 {
                FULL_FLOW_M3_S * ((taken_w - 3.0 * KW) / (9.5 * KW)).min(1.0)
            } else {
                0.0
            },
            ..DriveOffer::stopped(p, ladder.cuts)
        };
        (offer, p >= day.start_rule.restart_power * 3.0 * KW)
    });
    let lossless = lossless_inverter();
    let none = CableLoss::new(0.0, 1.0);
    let bus = available_w.iter().map(|&w| {
        let mut ladder = Ladder::new(w);
        ladder.cut_to(LossCause::InverterClipping, day.inverter_kw * KW);
        BusOffer::of(&lossless, ladder, ladder.power_w * (1.0 - 1e-12), none)
    });
    let per_hour = axis.steps_per_hour();
    let bus = BusYear::new(bus, per_hour);
    let mains = day.mains_m3_h.map(|_, flow_m3_h| Mains {
        flow_m3_s: flow_m3_h / 3600.0,
        motor_w: MAINS_KW * KW,
        lost_w: 0.0,
        throttled: false,
    });
    let mut sets = ti_vec![Arc::new(SetOffers {
        drive: Some(DriveYear::starting(drive, &day.start_rule, per_hour)),
        with_mains: None,
        mains,
        wanted_m3_s: Monthly::from_array([FULL_FLOW_M3_S; 12]),
    })];
    if day.set_beside {
        sets.push(Arc::new(SetOffers {
            drive: None,
            with_mains: None,
            mains,
            wanted_m3_s: Monthly::default(),
        }));
    }
    Offers {
        groups: ti_vec![Arc::new(GroupYear {
            max_power_v: vec![0.0; available_w.len()],
            available_w: Bounded::new(available_w.clone(), per_hour),
        })],
        sets,
        inverters: vec![Arc::new(InverterOffers {
            inverter: lossless_inverter(),
            group: 0.into(),
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

/// The inputs of the day.
pub(crate) struct Day<'a> {
    pub(crate) delays: Delays,
    pub(crate) step: Step,
    pub(crate) sun: Sun,
    /// Start and end \[h\] of the day's outage.
    pub(crate) outage_h: Option<(f64, f64)>,
    /// A second outage.
    pub(crate) evening_outage_h: Option<(f64, f64)>,
    pub(crate) tank: TankSheet,
    /// Water wanted in a day \[m³\], spread evenly over these hours.
    pub(crate) demand: (f64, DayHours),
    pub(crate) mains_hours: DayHours,
    /// Level up to which the bus fills the tank, and share that the inverters must offer for surplus pumping, fractions.
    pub(crate) fill: Hourly<f64>,
    pub(crate) surplus: Option<f64>,
    /// All loads, those that an island feeds, and those that a generator feeds \[kW\], all day.
    pub(crate) loads_kw: [f64; 3],
    pub(crate) export: Export,
    pub(crate) battery: Option<&'a Battery>,
    pub(crate) generator: Option<GeneratorRules<'a>>,
    /// Time from the loss of the utility until the generator carries load.
    pub(crate) generator_delay_s: f64,
    /// Attended hours, and the least time after the return of power \[s\], where starters are closed by hand.
    pub(crate) restart: Option<(DayHours, f64)>,
    pub(crate) pump_first: bool,
    /// Whether there is a second pump set, without a drive.
    pub(crate) set_beside: bool,
    /// Flow of a set on mains in each month.
    pub(crate) mains_m3_h: Monthly<f64>,
    /// Rating of the inverter.
    pub(crate) inverter_kw: f64,
    /// How the drive starts on the sun; it starts at 3 kW.
    pub(crate) start_rule: StartRule,
}

fn loads(kw: f64) -> Loads {
    let mut loads = Loads::none();
    loads.add(&MonthHour::from_array([Hourly::from_array([kw * KW; 24]); 12]));
    loads
}

impl Day<'_> {
    pub(crate) fn plain(delays: Delays, step: Step) -> Self {
        Self {
            delays,
            step,
            sun: Sun::Sine,
            outage_h: Some((10.0, 12.0)),
            evening_outage_h: None,
            // More is wanted than can be pumped, so that the tank never fills. Demand stops with the sun, when pumping on
            // mains ends too, so that the low mark matters only for an empty tank.
            tank: TankSheet {
                capacity_m3: 1e3,
                restart_level: 0.9,
                low_mark: 0.0,
            },
            demand: (480.0, DayHours::between(6, 18)),
            mains_hours: DayHours::between(6, 18),
            fill: Hourly::from_array([1.0; 24]),
            surplus: None,
            loads_kw: [0.0; 3],
            export: Export::paid(MonthHour::from_array([Hourly::from_array([1e-8; 24]); 12])),
            battery: None,
            generator: None,
            generator_delay_s: 0.0,
            restart: None,
            pump_first: true,
            set_beside: false,
            mains_m3_h: Monthly::from_array([30.0; 12]),
            inverter_kw: 100.0,
            start_rule: StartRule::at_once(),
        }
    }

    /// A day without sun and without outage: 10 m³ wanted in every hour, and a tank of 100 m³.
    pub(crate) fn steady(step: Step) -> Self {
        Self {
            sun: Sun::always(0.0),
            outage_h: None,
            tank: TankSheet {
                capacity_m3: 100.0,
                restart_level: 0.9,
                low_mark: 0.2,
            },
            demand: (240.0, DayHours::ALL),
            mains_hours: DayHours::ALL,
            ..Self::plain(NONE, step)
        }
    }

    fn outages(&self, year_s: f64) -> Outages {
        let on_day = |d: i32| {
            [self.outage_h, self.evening_outage_h]
                .into_iter()
                .flatten()
                .map(move |(from_h, to_h)| Interval {
                    start_s: f64::from(d) * 86_400.0 + from_h * 3600.0,
                    end_s: f64::from(d) * 86_400.0 + to_h * 3600.0,
                })
        };
        let intervals = (0..365).flat_map(on_day).collect();
        Outages::new(intervals, year_s).0
    }

    fn demand(&self) -> Demand {
        let (daily_m3, hours) = self.demand;
        Demand::new(DemandSheet {
            daily_m3: Monthly::from_array([daily_m3; 12]),
            hour_share: Hourly::from_fn(|hour| f64::from(u8::from(hours.allows(hour)))),
        })
        .unwrap()
    }

    /// A year of such days.
    pub(crate) fn year(&self, arrangement: Arrangement) -> YearResult {
        let axis = Axis::new(2025, 365, 0, "UTC", self.step).unwrap();
        let offers = offers(&axis, self);
        let outages = self.outages(axis.length_s());
        let inputs = ScheduleInputs {
            outages: &outages,
            mains_hours: self.mains_hours,
            switch_times: SwitchTimes {
                to_drive_s: self.delays.to_drive_s,
                grid_stable_s: self.delays.grid_stable_s,
                to_mains_s: self.delays.to_mains_s,
            },
            generator_delay_s: self.generator_delay_s,
            reconnection_s: &ti_vec![self.delays.reconnection_s],
            groups: &ti_vec![GroupParts {
                inverter: Some(0.into()),
                drive: true,
            }],
            set_has_drive: TiSlice::from_ref(if self.set_beside { &[true, false] } else { &[true] }),
            restart: self.restart.map(|(attended, delay_s)| RestartByHand {
                attended,
                delay_s,
                generator_hours: self.generator.map_or(DayHours::ALL, |generator| generator.hours),
                axis: &axis,
            }),
        };
        let tank = Tank::new(self.tank).unwrap();
        let mut one_by_one = OneByOne {
            sums: [0.0; Flow::COUNT],
            step_s: axis.step_s(),
        };
        let schedule = schedule(arrangement, &inputs);
        let result = run_year(
            &YearInputs {
                axis: &axis,
                routes: &schedule.routes,
                timeline: &Timeline::new(&axis, &schedule.phases, 3600.0),
                offers: &offers,
                tank: &tank,
                fill: self.fill,
                surplus: self.surplus,
                demand: &self.demand(),
                loads: &loads(self.loads_kw[0]),
                backed_up: &loads(self.loads_kw[1]),
                generator_loads: &loads(self.loads_kw[2]),
                export: &self.export,
                battery: self.battery,
                generator: self.generator,
                sun_to_pump_first: self.pump_first,
            },
            &mut one_by_one,
        );
        assert!(result.residuals.energy < 1e-9 && result.residuals.water < 1e-9 && result.residuals.hours < 1e-9);
        one_by_one.check(&result.ledger.year());
        result
    }

    /// The account of the year.
    pub(crate) fn book(&self, arrangement: Arrangement) -> MonthBook {
        self.year(arrangement).ledger.year()
    }
}

/// Collects the year from every piece, step by step.
struct OneByOne {
    sums: [f64; Flow::COUNT],
    step_s: f64,
}

impl Recorder for OneByOne {
    fn piece(&mut self, step: usize, p: &Piece) {
        assert!(p.length_s <= self.step_s + 1e-6, "{} s in step {step}", p.length_s);
        for (sum, rate) in self.sums.iter_mut().zip(p.rates()) {
            *sum += rate * p.length_s;
        }
    }
}

impl OneByOne {
    /// Checks that steps settled together give the same as one by one.
    fn check(&self, year: &MonthBook) {
        for (alone, flow) in self.sums.into_iter().zip(Flow::ALL) {
            let together = year[flow];
            let differs = (alone - together).abs() / together.abs().max(1.0);
            assert!(differs < 1e-7, "{flow:?}: {alone} one by one, {together} together");
        }
    }
}

/// Checks that a value is as worked by hand, except for rounding; also for 0.
pub(crate) fn exactly(ours: f64, worked: f64) {
    assert!(
        (ours - worked).abs() <= 1e-7 * worked.abs().max(1.0),
        "{ours} against {worked} worked by hand"
    );
}

pub(crate) fn near(ours: f64, worked: f64) {
    assert!(
        (ours / worked - 1.0).abs() <= 1e-3,
        "{ours} against {worked} worked by hand"
    );
}
