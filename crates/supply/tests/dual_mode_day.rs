//! The dual-mode day of `day` with export allowed and paid.

mod day;

use day::{DAYS, Day, Delays, FULL_FLOW_M3_S, KWH, NONE, near};
use daylift_plant::Arrangement;
use daylift_supply::{Flow, LossCause, MonthBook};
use daylift_units::Step;

fn use_of(year: &MonthBook) -> f64 {
    (year[Flow::ArrayToPump] + year[Flow::ArrayToLoads] + year[Flow::Exported]) / year[Flow::Available]
}

fn mean_day(arrangement: Arrangement, delays: &Delays, step: Step) -> MonthBook {
    Day::plain(*delays, step).book(arrangement)
}

#[test]
fn available_energy() {
    let day = mean_day(Arrangement::SOLAR_DRIVE, &NONE, Step::Minute);
    near(day[Flow::Available] / DAYS / KWH, 152.789);
}

#[test]
fn grid_tied() {
    let day = mean_day(Arrangement::GRID_TIED, &NONE, Step::Minute);
    near(use_of(&day), 0.7500);
    near(day[Flow::Pumped] / DAYS, 300.0);
}

#[test]
fn solar_drive() {
    let day = mean_day(Arrangement::SOLAR_DRIVE, &NONE, Step::Minute);
    near(use_of(&day), 0.7679);
    near(day[Flow::Pumped] / DAYS, 267.7);
}

#[test]
fn dual_mode_without_delays() {
    let day = mean_day(Arrangement::DUAL_MODE, &NONE, Step::Minute);
    near(use_of(&day), 0.9136);
    near(day[Flow::Pumped] / DAYS, 360.0);
    near(day[Flow::Lost(LossCause::PumpAtFullSpeed)] / DAYS / KWH, 13.197);
}

const DELAYS: Delays = Delays {
    to_drive_s: 60.0,
    grid_stable_s: 0.0,
    to_mains_s: 60.0,
    reconnection_s: 120.0,
};

#[test]
fn dual_mode_with_delays() {
    let day = mean_day(Arrangement::DUAL_MODE, &DELAYS, Step::Minute);
    near(use_of(&day), 0.9057);
    near(day[Flow::Pumped] / DAYS, 359.0);
    near(
        (day[Flow::Lost(LossCause::Changeover)] + day[Flow::Lost(LossCause::WaitingToReconnect)]) / DAYS / KWH,
        1.289,
    );
    near(day[Flow::Lost(LossCause::PumpAtFullSpeed)] / DAYS / KWH, 13.116);
}

#[test]
fn delays_have_the_same_effect_at_every_step() {
    for step in [Step::TenMinutes, Step::Hour] {
        let day = mean_day(Arrangement::DUAL_MODE, &DELAYS, step);
        let plain = mean_day(Arrangement::DUAL_MODE, &NONE, step);
        // 120 s a day are without pumping, at full flow.
        near((plain[Flow::Pumped] - day[Flow::Pumped]) / DAYS, 120.0 * FULL_FLOW_M3_S);
        let waited_kwh =
            (day[Flow::Lost(LossCause::Changeover)] + day[Flow::Lost(LossCause::WaitingToReconnect)]) / DAYS / KWH;
        // Power is the mean of a step here, so the energy of a wait depends slightly on the length of the step.
        assert!((waited_kwh / 1.289 - 1.0).abs() < 0.02, "{waited_kwh}");
    }
}
