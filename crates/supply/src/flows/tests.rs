//! One piece of a set whose drive has mains on its second input, worked by hand with the rules of `docs/model.md` §10b.
//!
//! With mains the drive has 8.5 kW at the motor and 1.5 kW of losses. Of these 10 kW the array gives 4 kW, and 1 kW of its
//! power is held off. So mains gives a share of 0.6: 6 kW, of which 5.1 kW reach the motor.

use std::sync::Arc;

use daylift_grid::{Generator, GeneratorSheet};
use daylift_lift::{Tank, TankSheet};
use daylift_plant::DayHours;
use daylift_units::{Hour, Hourly, Month, Monthly};
use typed_index_collections::ti_vec;

use crate::bus::LiveBus;
use crate::cause::{LossCause, ShortfallCause};
use crate::dc::GroupYear;
use crate::flow::Flow;
use crate::levels::Levels;
use crate::limits::Ladder;
use crate::now::{Now, OnMains};
use crate::offers::{DriveOffer, DriveYear, Mains, Offers, SetOffers};
use crate::piece::Piece;
use crate::route::{ArrayFeed, Bus, PumpFeed, Route, RouteId};
use crate::stream::{Bounded, Grid, Steps};
use crate::surroundings::{GeneratorRules, Surroundings};
use crate::tank::TankState;
use crate::timeline::Span;

const HELPED_M3_S: f64 = 0.008;
const ALONE_M3_S: f64 = 0.003;
/// Wanted flow on the drive: the sun alone gives three eighths of it.
const WANTED_M3_S: f64 = 0.008;
const DIRECT_M3_S: f64 = 0.009;

fn helped(array_w: f64) -> DriveOffer {
    let mut ladder = Ladder::new(array_w + 1000.0);
    ladder.cut_to(LossCause::HeldOffByGrid, array_w);
    DriveOffer {
        array_w,
        mains_w: 10_000.0 - array_w,
        drive_loss_w: 1000.0,
        motor_cable_w: 500.0,
        motor_w: 8500.0,
        flow_m3_s: HELPED_M3_S,
        hz: 45.0,
        held_back_by: ShortfallCause::PumpTooSlow,
        ..DriveOffer::stopped(array_w + 1000.0, ladder.cuts)
    }
}

/// The set on 5 kW of sun alone, without losses; or stopped.
fn alone(runs: bool) -> DriveOffer {
    if !runs {
        let mut ladder = Ladder::new(5000.0);
        ladder.cut_to(LossCause::BelowStart, 0.0);
        return DriveOffer::stopped(5000.0, ladder.cuts);
    }
    DriveOffer {
        array_w: 5000.0,
        motor_w: 5000.0,
        flow_m3_s: ALONE_M3_S,
        ..DriveOffer::stopped(5000.0, Ladder::new(5000.0).cuts)
    }
}

struct Case {
    alone: DriveOffer,
    helped: DriveOffer,
    available_w: f64,
    feed: PumpFeed,
    sun_share: f64,
    mains: Mains,
    /// Rating of a generator that holds the bus; `None`: the utility holds it.
    set_w: Option<f64>,
    on_mains: OnMains,
}

fn case() -> Case {
    Case {
        alone: alone(true),
        helped: helped(4000.0),
        available_w: 5000.0,
        feed: PumpFeed::DriveAndMains {
            only_without_sun: false,
        },
        sun_share: 0.0,
        mains: Mains {
            flow_m3_s: DIRECT_M3_S,
            motor_w: 7000.0,
            lost_w: 500.0,
            throttled: false,
        },
        set_w: None,
        on_mains: OnMains::Run,
    }
}

impl Case {
    fn piece(&self) -> Piece {
        let offers = Offers {
            groups: ti_vec![Arc::new(GroupYear {
                max_power_v: vec![0.0],
                available_w: Bounded::new(vec![self.available_w], 1),
            })],
            sets: ti_vec![Arc::new(SetOffers {
                drive: Some(DriveYear::new([self.alone].into_iter(), 1)),
                with_mains: Some(DriveYear::with_mains(&[self.helped], 1)),
                mains: Monthly::from_array([self.mains; 12]),
                wanted_m3_s: Monthly::from_array([WANTED_M3_S; 12]),
            })],
            inverters: Vec::new(),
        };
        let tank = Tank::new(TankSheet {
            capacity_m3: 100.0,
            restart_level: 0.9,
            low_mark: 0.2,
        })
        .unwrap();
        let set = self.set_w.map(|rated_w| {
            let sheet = GeneratorSheet {
                name: String::new(),
                rated_w,
                least_load: 0.3,
                fuel_points: vec![(0.5, 1e-6), (1.0, 2e-6)],
            };
            Generator::new(sheet).unwrap()
        });
        let around = Surroundings {
            grid: Grid::new(3600.0),
            offers: &offers,
            by_hour: Levels::of(&tank).by_hour(&Hourly::from_array([1.0; 24])),
            levels: Levels::of(&tank),
            surplus: None,
            battery: None,
            generator: set.as_ref().map(|set| GeneratorRules {
                set,
                hours: DayHours::ALL,
                pumps_only_when_low: false,
                sun_share: self.sun_share,
            }),
            line_w: f64::INFINITY,
            export_w: 0.0,
            export_paid: false,
            sun_to_pump_first: true,
            load_w: 0.0,
            backed_up_w: 0.0,
            generator_load_w: 0.0,
            demand_m3_s: 0.01,
        };
        let route = Route {
            groups: ti_vec![ArrayFeed::Drive],
            sets: ti_vec![self.feed],
            utility: set.is_none(),
            bus: if set.is_some() {
                Bus::Generator
            } else {
                Bus::Utility { battery: false }
            },
            mains_hours: DayHours::ALL,
        };
        let span = Span {
            start_s: 0.0,
            end_s: 3600.0,
            step: 0,
            last: 0,
            month: Month::January,
            hour: Hour::H0,
            day: 0,
            route: RouteId::default(),
        };
        let now = Now {
            span: &span,
            route: &route,
            around: &around,
            bus: &LiveBus::of(&route, &around, None, 0, Hour::H0),
            step: 0,
        };
        let mut piece = Piece::at_rest();
        now.flows(
            &mut piece,
            &TankState {
                content_m3: 50.0,
                wanting: true,
                fill_stopped: false,
            },
            self.on_mains,
            &Steps::one(0, 3600.0),
        );
        piece
    }
}

fn near(ours: f64, worked: f64) {
    assert!((ours - worked).abs() < 1e-9, "{ours} against {worked} worked by hand");
}

/// Checks that the sun alone runs the set: 5 kW, and nothing from mains.
fn runs_alone(piece: &Piece) {
    near(piece[Flow::Pumped], ALONE_M3_S);
    near(piece[Flow::ArrayToPump], 5000.0);
    near(piece[Flow::Imported] + piece[Flow::Generated], 0.0);
    near(piece[Flow::Pumping], 1.0);
}

#[test]
fn array_and_mains_share_losses_in_proportion_to_their_power() {
    let piece = case().piece();
    near(piece[Flow::Pumped], HELPED_M3_S);
    near(piece[Flow::Imported], 6000.0);
    near(piece[Flow::GridToPump], 5100.0);
    near(piece[Flow::GridLost], 900.0);
    near(piece[Flow::ArrayToPump], 3400.0);
    near(piece[Flow::Lost(LossCause::HeldOffByGrid)], 1000.0);
    near(piece[Flow::Lost(LossCause::DriveConversion)], 400.0);
    near(piece[Flow::Lost(LossCause::Cables)], 200.0);
    near(piece.hz, 45.0);
    near(piece[Flow::Pumping], 1.0);
    assert_eq!(piece.held_back_by, ShortfallCause::PumpTooSlow);
}

#[test]
fn without_mains_the_drive_runs_alone() {
    let off = Case {
        on_mains: OnMains::Stop(ShortfallCause::OutsideHours),
        ..case()
    };
    runs_alone(&off.piece());
    let standing = Case {
        alone: alone(false),
        ..off
    };
    let piece = standing.piece();
    near(piece[Flow::Pumped], 0.0);
    near(piece[Flow::Lost(LossCause::BelowStart)], 5000.0);
    assert_eq!(piece.held_back_by, ShortfallCause::TooLittleSun);
}

/// The sun alone gives 3 of 8 l/s: 37.5 % of the wanted flow (§10d).
#[test]
fn a_generator_helps_a_drive_only_when_the_sun_gives_less_than_its_share() {
    let beside = |sun_share| Case {
        feed: PumpFeed::DriveAndMains { only_without_sun: true },
        sun_share,
        set_w: Some(20_000.0),
        ..case()
    };
    for enough in [0.0, 0.375] {
        runs_alone(&beside(enough).piece());
    }
    let standing = Case {
        alone: alone(false),
        ..beside(0.0)
    };
    for needed in [beside(0.376), beside(1.0), standing] {
        let piece = needed.piece();
        near(piece[Flow::Generated], 6000.0);
        near(piece[Flow::Pumped], HELPED_M3_S);
    }
}

/// Of 5 kW the well cuts 0.5 kW, the voltage 0.3 kW and the full speed 1 kW; the pump would take 3.2 kW. While the set runs
/// directly on the generator, the 4.2 kW after well and voltage are held off.
#[test]
fn strings_of_a_set_on_the_generator_keep_the_cuts_of_well_and_voltage() {
    let mut ladder = Ladder::new(5000.0);
    ladder.cut_to(LossCause::WellLimit, 4500.0);
    ladder.cut_to(LossCause::VoltageLimitedSpeed, 4200.0);
    ladder.cut_to(LossCause::PumpAtFullSpeed, 3200.0);
    let limited = DriveOffer {
        array_w: 3200.0,
        motor_w: 3200.0,
        flow_m3_s: ALONE_M3_S,
        ..DriveOffer::stopped(5000.0, ladder.cuts)
    };
    let direct = Case {
        alone: limited,
        feed: PumpFeed::DriveElseMains,
        sun_share: 0.5,
        set_w: Some(20_000.0),
        ..case()
    };
    let piece = direct.piece();
    near(piece[Flow::Generated], 7500.0);
    near(piece[Flow::GeneratorToPump], 7000.0);
    near(piece[Flow::Pumped], DIRECT_M3_S);
    near(piece[Flow::ArrayToPump], 0.0);
    near(piece[Flow::Lost(LossCause::WellLimit)], 500.0);
    near(piece[Flow::Lost(LossCause::VoltageLimitedSpeed)], 300.0);
    near(piece[Flow::Lost(LossCause::PumpAtFullSpeed)], 0.0);
    near(piece[Flow::Lost(LossCause::HeldOffByGrid)], 4200.0);
    assert_eq!(piece.held_back_by, ShortfallCause::PumpTooSlow);
    // Without power to start, all of it is below the start.
    let standing = Case {
        alone: alone(false),
        ..direct
    };
    let piece = standing.piece();
    near(piece[Flow::Generated], 7500.0);
    near(piece[Flow::Lost(LossCause::BelowStart)], 5000.0);
    near(piece[Flow::Lost(LossCause::HeldOffByGrid)], 0.0);
}

#[test]
fn a_set_that_cannot_run_on_mains_stays_on_the_sun() {
    let stays = Case {
        feed: PumpFeed::DriveElseMains,
        sun_share: 1.0,
        mains: Mains::default(),
        set_w: Some(20_000.0),
        ..case()
    };
    let piece = stays.piece();
    runs_alone(&piece);
    assert_eq!(piece.held_back_by, ShortfallCause::TooLittleSun);
}

#[test]
fn a_source_too_small_to_help_leaves_the_set_to_the_sun() {
    let small = Case {
        set_w: Some(5000.0),
        ..case()
    };
    let piece = small.piece();
    runs_alone(&piece);
    assert_eq!(piece.held_back_by, ShortfallCause::SourceTooSmall);
    // A set that needs nothing from mains is never refused.
    let by_sun = Case {
        helped: DriveOffer {
            mains_w: 0.0,
            ..helped(10_000.0)
        },
        available_w: 11_000.0,
        ..small
    };
    let piece = by_sun.piece();
    near(piece[Flow::Pumped], HELPED_M3_S);
    near(piece[Flow::ArrayToPump], 8500.0);
    near(piece[Flow::Generated], 0.0);
    assert_eq!(piece.held_back_by, ShortfallCause::PumpTooSlow);
}

#[test]
fn without_sun_mains_gives_all_the_power() {
    let dark = Case {
        alone: DriveOffer::stopped(0.0, Ladder::new(0.0).cuts),
        helped: DriveOffer {
            cuts: Ladder::new(0.0).cuts,
            ..helped(0.0)
        },
        available_w: 0.0,
        ..case()
    };
    let piece = dark.piece();
    near(piece[Flow::Imported], 10_000.0);
    near(piece[Flow::GridToPump], 8500.0);
    near(piece[Flow::Pumped], HELPED_M3_S);
    near(piece[Flow::Available], 0.0);
    // With mains off nothing runs the set, and the cause is too little sun.
    let off = Case {
        on_mains: OnMains::Stop(ShortfallCause::OutsideHours),
        ..dark
    };
    let piece = off.piece();
    near(piece[Flow::Pumped], 0.0);
    near(piece[Flow::Pumping], 0.0);
    assert_eq!(piece.held_back_by, ShortfallCause::TooLittleSun);
}
