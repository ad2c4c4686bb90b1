//! What drive and inverter miss of the maximum power is the first part of their power that is lost (`docs/model.md` §5a, §12).
//! With a loss that does not depend on the clouds it is known without a year.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::path::Path;

use daylift_array::InverterLosses;
use daylift_lift::{DriveControl, PumpSet, StartRule};
use daylift_plant::{Plant, RuleSearch, Wiring};
use daylift_plant_file::read_plant;
use daylift_study::Memory;
use daylift_study::Row;
use daylift_study::compare::{Extras, compare_in_full};
use daylift_supply::{Flow, LossCause};
use daylift_units::Step;

/// The example whose drive misses 4 % and whose inverter misses 1 % of the maximum power, always.
fn plant(start: StartRule) -> Plant {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/mulenga-ridge");
    let mut plant = read_plant(&root).unwrap().plant;
    plant.pumping.search = RuleSearch::AsWritten;
    for set in &mut plant.sets {
        let control = DriveControl {
            static_loss: 0.01,
            clear_loss: 0.03,
            broken_loss: 0.03,
            start: start.clone(),
        };
        let drive = set.pump_set.drive().unwrap().clone().with_control(control).unwrap();
        set.pump_set = with_drive(&set.pump_set, drive);
    }
    for feeder in &mut plant.feeders {
        let losses = InverterLosses {
            tracking: 0.01,
            tracking_broken: 0.01,
            derating_per_k: 0.0,
            derating_c: 45.0,
        };
        feeder.inverter = feeder.inverter.clone().with_losses(losses).unwrap();
    }
    plant
}

fn with_drive(set: &PumpSet, drive: daylift_lift::Drive) -> PumpSet {
    PumpSet::new(
        set.pump().clone(),
        set.motor().clone(),
        Some(drive),
        set.system().clone(),
        *set.fitted(),
    )
    .unwrap()
}

fn rows(plant: &Plant) -> Vec<Row> {
    let full = compare_in_full(plant, Step::Hour, &[], Extras::NONE, &Memory::none(), &mut |_, _| ());
    full.rows.into_iter().map(|shown| shown.row).collect()
}

/// Worked by hand: a drive loses 4 % of what it is offered while water is wanted and no start is held back; an inverter loses
/// 1 % of what it is offered while it feeds.
#[test]
fn tracking_is_the_first_cut_of_what_a_device_is_offered() {
    let usual = StartRule {
        restart_power: 1.25,
        confirm_s: 60.0,
        waits_s: vec![7200.0],
    };
    for start in [StartRule::at_once(), usual] {
        let rows = rows(&plant(start.clone()));
        for (wiring, share) in [(Wiring::SolarDrive, 0.04), (Wiring::GridTied, 0.01)] {
            let row = rows
                .iter()
                .find(|row| row.id.wiring == wiring && !row.id.generator && !row.id.night_tank)
                .unwrap();
            let energy = &row.array_kwh;
            let before = [
                LossCause::GridDown,
                LossCause::WaitingToReconnect,
                LossCause::GridVoltageTrip,
                LossCause::StartLockout,
                LossCause::WaterNotWanted,
            ];
            let offered_kwh = energy.of(Flow::Available) - before.map(|cause| energy.lost(cause)).iter().sum::<f64>();
            let lost_kwh = energy.lost(LossCause::Tracking);
            assert!(
                (lost_kwh - share * offered_kwh).abs() < 1e-6 * offered_kwh,
                "{}: {lost_kwh} of {offered_kwh}",
                row.id
            );
            let locked = energy.lost(LossCause::StartLockout) > 0.0;
            assert_eq!(
                locked,
                wiring == Wiring::SolarDrive && !start.is_at_once(),
                "{}",
                row.id
            );
        }
    }
}
