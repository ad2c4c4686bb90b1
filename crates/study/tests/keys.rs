//! Every change of a stage's input changes its memory key, even in the last digit.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::path::Path;

use daylift_array::{ArrayLosses, CellModel, Faiman, Inverter, InverterSheet, StringGroup};
use daylift_grid::{Interval, LoadSeries, Outages};
use daylift_lift::{PumpSet, SetSheet, Tank, TankSheet};
use daylift_plant::{InputKind, Plant, SwitchTimes};
use daylift_plant_file::read_plant;
use daylift_sky::{Observer, SkyModel};
use daylift_units::fingerprint::of;
use daylift_units::{Hour, Month};

fn plant() -> Plant {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap().parent().unwrap();
    read_plant(&root.join("examples/mulenga-ridge/plant.toml")).unwrap().plant
}

/// Fingerprint of everything in a plant that is part of a stage's key.
fn print(plant: &Plant) -> u64 {
    let array = plant.array.as_ref().unwrap();
    let surfaces: Vec<_> = array.planes.iter().map(|plane| &plane.surface).collect();
    let strings: Vec<_> = array.groups.iter().map(|group| &group.strings).collect();
    let sets: Vec<_> = plant.sets.iter().map(|set| &set.pump_set).collect();
    let inverters: Vec<_> = plant.feeders.iter().map(|feeder| &feeder.inverter).collect();
    let generator = plant.beside.generator.as_ref().map(|generator| (&generator.set, generator.hours));
    of(&(
        (
            &plant.weather,
            &plant.site.observer,
            surfaces,
            array.cell_model,
            strings,
        ),
        (sets, inverters, &plant.tank, &plant.demand),
        (
            &plant.grid.outages,
            plant.design.switch_times,
            &plant.grid.loads,
            &plant.grid.export,
        ),
        (plant.beside.second_input, &plant.beside.battery, generator),
    ))
}

/// Changes one of the losses of a group.
fn losses(by: impl FnOnce(&mut ArrayLosses)) -> impl FnOnce(&mut Plant) {
    move |plant| {
        let strings = &mut plant.array.as_mut().unwrap().groups.raw[0].strings;
        let mut losses = ArrayLosses::NONE;
        by(&mut losses);
        *strings = StringGroup::new(strings.module().clone(), 16, 3, losses, 0.02).unwrap();
    }
}

fn tank(capacity_m3: f64, low_mark: f64) -> impl FnOnce(&mut Plant) {
    let sheet = TankSheet {
        capacity_m3,
        restart_level: 0.8,
        low_mark,
    };
    move |plant| plant.tank = Tank::new(sheet).unwrap()
}

fn wanted(hz: f64) -> impl FnOnce(&mut Plant) {
    move |plant| {
        let set = &mut plant.sets.raw[0].pump_set;
        let (pump, motor, system) = (set.pump().clone(), set.motor().clone(), set.system().clone());
        *set = PumpSet::new(
            pump,
            motor,
            set.drive().cloned(),
            system,
            SetSheet::plain(0.02, Some(hz)),
        )
        .unwrap();
    }
}

fn inverter(by: impl FnOnce(&mut InverterSheet)) -> impl FnOnce(&mut Plant) {
    move |plant| {
        let inverter = &mut plant.feeders.raw[0].inverter;
        let mut sheet = inverter.sheet().clone();
        by(&mut sheet);
        *inverter = Inverter::new(sheet).unwrap();
    }
}

fn outage(end_s: f64) -> impl FnOnce(&mut Plant) {
    let interval = Interval { start_s: 100.0, end_s };
    move |plant| plant.grid.outages = Outages::new(vec![interval], 31_536_000.0).0
}

fn metered(power_w: f64) -> impl FnOnce(&mut Plant) {
    move |plant| plant.grid.loads.add_series(LoadSeries::new(900, vec![power_w; 35_040]))
}

fn times(by: impl FnOnce(&mut SwitchTimes)) -> impl FnOnce(&mut Plant) {
    move |plant| by(&mut plant.design.switch_times)
}

fn second_input(takes_over_below: f64, speed: f64) -> impl FnOnce(&mut Plant) {
    move |plant| {
        let input = plant.beside.second_input.as_mut().unwrap();
        input.kind = InputKind::Switch { takes_over_below };
        input.wanted_speed[Hour::H3] = speed;
    }
}

fn cells(u1: f64) -> impl FnOnce(&mut Plant) {
    let faiman = Faiman::new(25.0, u1).unwrap();
    move |plant| plant.array.as_mut().unwrap().cell_model = CellModel::Faiman(faiman)
}

fn observer(altitude_m: f64) -> impl FnOnce(&mut Plant) {
    move |plant| plant.site.observer = Observer::new(-14.0, 28.0, altitude_m, 20.0).unwrap()
}

fn weather(model: SkyModel, clouds: Option<u32>) -> impl FnOnce(&mut Plant) {
    move |plant| plant.weather = plant.weather.clone().with_sky_model(model).with_clouds(clouds)
}

/// The key of the plant with one change.
fn with(by: impl FnOnce(&mut Plant)) -> u64 {
    let mut plant = plant();
    by(&mut plant);
    print(&plant)
}

fn changed() -> Vec<u64> {
    let up = f64::next_up;
    vec![
        with(|_| ()),
        with(tank(80.0, 0.1)),
        with(tank(up(80.0), 0.1)),
        with(tank(80.0, up(0.1))),
        with(times(|of| of.to_drive_s = up(of.to_drive_s))),
        with(times(|of| of.grid_stable_s = up(of.grid_stable_s))),
        with(times(|of| of.to_mains_s = up(of.to_mains_s))),
        with(second_input(0.8, 0.5)),
        with(second_input(up(0.8), 0.5)),
        with(second_input(0.8, up(0.5))),
        with(|plant| plant.beside.battery = None),
        with(outage(200.0)),
        with(outage(up(200.0))),
        with(metered(300.0)),
        with(metered(up(300.0))),
        with(losses(|_| ())),
        with(losses(|of| of.soiling[Month::December] = f64::MIN_POSITIVE)),
        with(losses(|of| of.mismatch = f64::MIN_POSITIVE)),
        with(losses(|of| of.age_years = f64::MIN_POSITIVE)),
        with(cells(7.0)),
        with(cells(up(7.0))),
        with(inverter(|of| of.start_w = 30.0)),
        with(inverter(|of| of.start_w = up(30.0))),
        with(wanted(47.0)),
        with(wanted(up(47.0))),
        with(observer(1000.0)),
        with(observer(1001.0)),
        with(weather(SkyModel::Perez, None)),
        with(weather(SkyModel::HayDavies, Some(2))),
        with(weather(SkyModel::HayDavies, Some(3))),
    ]
}

#[test]
fn every_input_counts_by_its_last_digit_and_nothing_else_does() {
    let prints = changed();
    for (number, print) in prints.iter().enumerate() {
        assert!(
            !prints[..number].contains(print),
            "change {number} has the key of one before it"
        );
    }
    assert_eq!(changed(), prints);
}
