//! Random grid, battery, generator and second input.

use daylift_array::Inverter;
use daylift_grid::{
    Battery, BatteryRule, BatteryUse, Export, Generator, Interval, LineSheet, LoadSeries, Loads, Outages, WeakLine,
};
use daylift_plant::{Arrangement, GeneratorUse, InputKind, LoadsFed, NightTank, Plant, SecondInput, Wiring};
use daylift_units::{Hour, Hourly, Month, MonthHour};

use crate::draws::Draws;
use crate::made::hours;

pub(crate) fn vary(draws: &mut Draws, plant: &mut Plant, parents: &[Plant]) {
    if plant.grid.connected && draws.chance(0.8) {
        plant.grid.outages = outages(draws, plant.site.axis.length_s());
    }
    let times = &mut plant.design.switch_times;
    times.to_drive_s = draws.between(0.0, 240.0).round();
    times.grid_stable_s = draws.between(0.0, 900.0).round();
    times.to_mains_s = draws.between(0.0, 240.0).round();
    for feeder in &mut plant.feeders {
        feeder.reconnection_s = draws.between(0.0, 900.0).round();
        let mut sheet = feeder.inverter.sheet().clone();
        sheet.rated_w *= draws.between(0.5, 1.5);
        sheet.start_w = sheet.rated_w * draws.scale(0.001, 0.2);
        sheet.mppt_min_v *= draws.between(0.8, 1.5);
        feeder.inverter = Inverter::new(sheet).unwrap_or(feeder.inverter.clone());
    }
    if draws.chance(0.1) {
        plant.grid.connected = false;
        plant.grid.outages = Outages::always(plant.site.axis.length_s());
        plant.reference = Arrangement::SOLAR_DRIVE;
    }
    plant.grid.export = export(draws, plant);
    if draws.chance(0.2) {
        meter(draws, plant);
    }
    if draws.chance(0.3) {
        plant.grid.backed_up = if draws.chance(0.5) {
            plant.grid.loads.clone()
        } else {
            Loads::none()
        };
    }
    let power_w = pump_w(plant);
    plant.beside.battery = battery(draws, parents, power_w);
    plant.beside.generator = generator(draws, parents, power_w);
    plant.beside.second_input = Some(second_input(draws));
    plant.beside.night_tank = Some(NightTank {
        tank: plant.tank.with_capacity(plant.tank.capacity_m3() * draws.scale(1.2, 4.0)),
        hours: hours(draws),
        beside: Wiring::ALL.into_iter().filter(|_| draws.chance(0.25)).collect(),
    });
}

/// A metered load, always on, backed up.
fn meter(draws: &mut Draws, plant: &mut Plant) {
    let interval_s = draws.one_of(&[300_u32, 900, 1800]);
    let power_w = pump_w(plant) * draws.between(0.05, 0.5);
    let mut at_s = 0.0;
    let mut readings_w = Vec::new();
    while at_s < plant.site.axis.length_s() {
        readings_w.push(power_w * draws.share() * draws.share());
        at_s += f64::from(interval_s);
    }
    let series = LoadSeries::new(interval_s, readings_w);
    plant.grid.loads.add_series(series.clone());
    plant.grid.backed_up.add_series(series);
}

/// Power of all sets on mains \[W\].
fn pump_w(plant: &Plant) -> f64 {
    plant
        .sets
        .iter()
        .filter_map(|s| s.pump_set.mains(Month::January))
        .map(|m| m.supply_w)
        .sum()
}

fn exponential(draws: &mut Draws, mean: f64) -> f64 {
    -mean * (1.0 - draws.share()).ln()
}

/// Outages of seconds to hours, at whole seconds; in some the grid returns briefly.
fn outages(draws: &mut Draws, year_s: f64) -> Outages {
    let (up_s, down_s) = (draws.scale(4.0, 300.0) * 3600.0, draws.scale(0.02, 12.0) * 3600.0);
    let hasty = draws.between(0.0, 0.4);
    let mut list = Vec::new();
    let mut at_s = if draws.chance(0.3) {
        0.0
    } else {
        exponential(draws, up_s).round()
    };
    while at_s < year_s {
        let end_s = at_s + exponential(draws, down_s).round().max(1.0);
        list.push(Interval { start_s: at_s, end_s });
        let mean_s = if draws.chance(hasty) { 120.0 } else { up_s };
        at_s = end_s + exponential(draws, mean_s).round().max(1.0);
    }
    Outages::new(list, year_s).0
}

fn export(draws: &mut Draws, plant: &Plant) -> Export {
    let array_w = plant.array.as_ref().map_or(1e4, daylift_plant::Array::stc_w);
    let mut export = match draws.whole(0, 3) {
        0 => return Export::forbidden(),
        1 => Export::unpaid(),
        _ => {
            let afternoons_only = draws.chance(0.5);
            let credit = |hour| if afternoons_only && hour < Hour::H12 { 0.0 } else { 1e-8 };
            Export::paid(MonthHour::from_fn(|_| Hourly::from_fn(credit)))
        }
    };
    if draws.chance(0.4) {
        export = export.at_most(array_w * draws.between(0.05, 0.8));
    }
    if draws.chance(0.4) {
        let volts = 400.0;
        // So that the line can carry some share of the array's power.
        let borne_w = array_w * draws.between(0.1, 1.0);
        let sheet = LineSheet {
            resistance_ohm_per_m: 0.06 * volts * volts / borne_w / 500.0,
            length_m: 500.0,
            nominal_v: volts,
            no_load_voltage: 1.03,
            greatest_voltage: 1.09,
        };
        export = export.on_line(WeakLine::new(sheet).unwrap());
    }
    export
}

/// A battery of one of the parents, of another size; half of them shut down often.
fn battery(draws: &mut Draws, parents: &[Plant], power_w: f64) -> Option<Battery> {
    let known: Vec<&Battery> = parents.iter().filter_map(|p| p.beside.battery.as_ref()).collect();
    let mut sheet = draws.one_of(&known).sheet().clone();
    sheet.capacity_j = power_w * 3600.0 * draws.scale(0.2, 6.0);
    sheet.charge_w = power_w * draws.between(0.1, 1.2);
    sheet.discharge_w = power_w * draws.between(0.3, 2.0);
    sheet.least_content = draws.between(0.0, 0.3);
    let reserve = draws.between(sheet.least_content, 1.0);
    let rule = draws.one_of(&[BatteryRule::SelfConsumption, BatteryRule::Reserve]);
    let most = if rule == BatteryRule::Reserve { 1.0 } else { reserve };
    let uses = BatteryUse {
        rule,
        reserve,
        grid_charges_to: if draws.chance(0.3) {
            0.0
        } else {
            draws.between(0.0, most)
        },
        restart: draws.between(sheet.least_content + 0.03, 0.9),
    };
    Battery::new(sheet, uses).ok()
}

fn generator(draws: &mut Draws, parents: &[Plant], power_w: f64) -> Option<GeneratorUse> {
    let known: Vec<&GeneratorUse> = parents.iter().filter_map(|p| p.beside.generator.as_ref()).collect();
    let mut generator = draws.one_of(&known).clone();
    let mut sheet = generator.set.sheet().clone();
    let rated_w = power_w * draws.between(0.3, 2.5);
    // A set of another size gets fuel in proportion, or the reader would refuse it.
    for (_, fuel_m3_s) in &mut sheet.fuel_points {
        *fuel_m3_s *= rated_w / sheet.rated_w;
    }
    sheet.rated_w = rated_w;
    sheet.least_load = draws.between(0.0, 0.5);
    generator.set = Generator::new(sheet).ok()?;
    generator.start_delay_s = draws.between(0.0, 1800.0).round();
    generator.hours = hours(draws);
    generator.loads = draws.one_of(&[LoadsFed::None, LoadsFed::BackedUp, LoadsFed::All]);
    generator.pumps_only_when_low = draws.chance(0.5);
    generator.beside = Wiring::ALL.into_iter().filter(|&w| w == Wiring::GridOnly || draws.chance(0.5)).collect();
    Some(generator)
}

fn second_input(draws: &mut Draws) -> SecondInput {
    let mut wanted_speed = Hourly::from_array([1.0; 24]);
    if draws.chance(0.6) {
        for speed in wanted_speed.values_mut() {
            *speed = draws.between(0.5, 1.0);
        }
    }
    SecondInput {
        kind: if draws.chance(0.5) {
            InputKind::Switch {
                takes_over_below: if draws.chance(0.3) {
                    0.0
                } else {
                    draws.between(0.0, 1.0)
                },
            }
        } else {
            InputKind::Blend {
                line_voltage_v: draws.between(200.0, 480.0),
            }
        },
        hours: Some(hours(draws)),
        wanted_speed,
    }
}
