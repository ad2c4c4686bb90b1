//! Every balance closes for random plants with any strings, tank, hours and outages.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::LazyLock;

use daylift_array::{ArrayLosses, StringGroup};
use daylift_grid::{Battery, BatteryRule, BatteryUse, Export, Generator, Interval, LineSheet, Outages, WeakLine};
use daylift_lift::{PumpSet, SetSheet, System, Tank, TankSheet, Well, WellSheet};
use daylift_plant::{Arrangement, DayHours, GivenRule, InputKind, LoadsFed, Plant, SwitchTimes, Wiring};
use daylift_plant_file::read_plant;
use daylift_study::columns::Sums;
use daylift_study::columns::groups::Group;
use daylift_study::{Memory, Row, Stages, compare};
use daylift_supply::{Flow, LossCause, NoRecorder};
use daylift_units::{Hour, Hourly, MonthHour, Monthly, Step};
use proptest::prelude::*;

static EXAMPLE: LazyLock<Plant> = LazyLock::new(|| {
    read_plant(&Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/mulenga-ridge"))
        .unwrap()
        .plant
});

#[derive(Debug, Clone)]
struct Variant {
    series: u32,
    strings: u32,
    capacity_m3: f64,
    low_mark: f64,
    restart: f64,
    hours: (u8, u8),
    /// Fill levels by day and by night, shares of the way from the low mark to full; and the surplus.
    fill: Option<[f64; 2]>,
    surplus: Option<f64>,
    wanted_hz: Option<f64>,
    intake_depth_m: Option<f64>,
    export: u8,
    times: [f64; 4],
    beside: Beside,
    /// Gap before an outage and its length \[s\], repeated through the year.
    outages: Vec<(f64, f64)>,
}

/// Second input, battery, generator, loads and line of a random plant.
#[derive(Debug, Clone)]
struct Beside {
    /// Share of the speed below which mains takes over (switch), or voltage of the second input (blend).
    input: Result<f64, f64>,
    wanted_speed: f64,
    capacity_kwh: f64,
    charge_kw: f64,
    discharge_kw: f64,
    reserve: f64,
    self_consumption: bool,
    set_kw: f64,
    set_delay_s: f64,
    loads: u8,
    only_when_low: bool,
    sun_share: f64,
    pump_first: bool,
    line_w: Option<f64>,
    agreed_w: Option<f64>,
}

fn besides() -> impl Strategy<Value = Beside> {
    let input = prop_oneof![(0.0..1.0_f64).prop_map(Ok), (300.0..480.0_f64).prop_map(Err)];
    let battery = (
        1.0..120.0_f64,
        1.0..30.0_f64,
        1.0..40.0_f64,
        0.1..1.0_f64,
        any::<bool>(),
    );
    let set = (5.0..60.0_f64, 0.0..3000.0_f64, 0_u8..3, any::<bool>(), 0.0..1.0_f64);
    let caps = (
        any::<bool>(),
        proptest::option::of(500.0..20e3_f64),
        proptest::option::of(500.0..20e3_f64),
    );
    (input, 0.4..1.0_f64, battery, set, caps).prop_map(|(input, wanted_speed, b, g, (pump_first, line_w, agreed_w))| {
        Beside {
            input,
            wanted_speed,
            capacity_kwh: b.0,
            charge_kw: b.1,
            discharge_kw: b.2,
            reserve: b.3,
            self_consumption: b.4,
            set_kw: g.0,
            set_delay_s: g.1,
            loads: g.2,
            only_when_low: g.3,
            sun_share: g.4,
            pump_first,
            line_w,
            agreed_w,
        }
    })
}

/// Adds second input, battery, generator, loads and line to the example.
fn set_beside(plant: &mut Plant, v: &Beside) -> Option<()> {
    let input = plant.beside.second_input.as_mut()?;
    input.kind = match v.input {
        Ok(takes_over_below) => InputKind::Switch { takes_over_below },
        Err(line_voltage_v) => InputKind::Blend { line_voltage_v },
    };
    input.wanted_speed = Hourly::from_array([v.wanted_speed; 24]);
    let mut sheet = plant.beside.battery.as_ref()?.sheet().clone();
    sheet.capacity_j = v.capacity_kwh * 3.6e6;
    (sheet.charge_w, sheet.discharge_w) = (v.charge_kw * 1e3, v.discharge_kw * 1e3);
    let uses = BatteryUse {
        rule: if v.self_consumption {
            BatteryRule::SelfConsumption
        } else {
            BatteryRule::Reserve
        },
        reserve: v.reserve,
        grid_charges_to: v.reserve * 0.9,
        restart: 0.15,
    };
    plant.beside.battery = Some(Battery::new(sheet, uses).ok()?);
    let generator = plant.beside.generator.as_mut()?;
    let mut set = generator.set.sheet().clone();
    for (_, fuel_m3_s) in &mut set.fuel_points {
        *fuel_m3_s *= v.set_kw * 1e3 / set.rated_w;
    }
    set.rated_w = v.set_kw * 1e3;
    generator.set = Generator::new(set).ok()?;
    generator.beside = Wiring::ALL.to_vec();
    generator.start_delay_s = v.set_delay_s;
    generator.loads = [LoadsFed::None, LoadsFed::BackedUp, LoadsFed::All][usize::from(v.loads)];
    generator.pumps_only_when_low = v.only_when_low;
    generator.sun_share = v.sun_share;
    plant.pumping.sun_to_pump_first = v.pump_first;
    let mut export = plant.grid.export.clone();
    if let Some(w) = v.agreed_w {
        export = export.at_most(w);
    }
    if let Some(w) = v.line_w {
        // A rise of 20 V on 400 V is allowed: 8000 W·Ω.
        let line = WeakLine::new(LineSheet {
            resistance_ohm_per_m: 8.0 / w,
            length_m: 1000.0,
            nominal_v: 400.0,
            no_load_voltage: 1.05,
            greatest_voltage: 1.10,
        });
        export = export.on_line(line.ok()?);
    }
    plant.grid.export = export;
    Some(())
}

fn variants() -> impl Strategy<Value = Variant> {
    let plant = (
        6_u32..22,
        1_u32..6,
        10.0..400.0_f64,
        prop_oneof![Just(0.0), 0.0..0.4_f64],
        0.5..0.95_f64,
        (0_u8..24, 1_u8..=24).prop_filter("hours differ", |(a, b)| a != b),
        proptest::option::of([0.02..1.0_f64, 0.02..1.0_f64]),
        proptest::option::of(0.01..1.5_f64),
    );
    let devices = (
        proptest::option::of(30.0..50.0_f64),
        proptest::option::of(47.5..70.0_f64),
        0_u8..3,
        [0.0..300.0_f64, 0.0..600.0_f64, 0.0..120.0_f64, 0.0..300.0_f64],
        proptest::collection::vec((1.0..200_000.0_f64, 1.0..90_000.0_f64), 1..6),
    );
    (plant, devices, besides()).prop_map(
        |((series, strings, capacity_m3, low_mark, restart, hours, fill, surplus), devices, beside)| Variant {
            beside,
            series,
            strings,
            capacity_m3,
            low_mark,
            restart,
            hours,
            fill,
            surplus,
            wanted_hz: devices.0,
            intake_depth_m: devices.1,
            export: devices.2,
            times: devices.3,
            outages: devices.4,
        },
    )
}

/// The changed example; `None` when the pump set is not valid with the change.
fn plant_of(v: &Variant) -> Option<Plant> {
    let mut plant = EXAMPLE.clone();
    let group = &mut plant.array.as_mut()?.groups.raw[0].strings;
    *group = StringGroup::new(group.module().clone(), v.series, v.strings, ArrayLosses::NONE, 0.02).ok()?;
    plant.tank = Tank::new(TankSheet {
        capacity_m3: v.capacity_m3,
        restart_level: v.restart,
        low_mark: v.low_mark,
    })
    .ok()?;
    plant.pumping.given = GivenRule {
        hours: Some(DayHours::between(v.hours.0, v.hours.1)),
        fill: v.fill.map(|[by_day, by_night]| {
            let share = |hour: Hour| {
                if (8..17).contains(&hour.begins_h()) {
                    by_day
                } else {
                    by_night
                }
            };
            Hourly::from_fn(|hour| v.low_mark + (1.0 - v.low_mark) * share(hour))
        }),
        low_mark: None,
        surplus: v.surplus,
    };
    let old = &plant.sets.raw[0].pump_set;
    let well = Well::new(WellSheet {
        static_level_m: Monthly::from_fn(|m| old.system().well().static_level_m(m)),
        aquifer_loss_s_m2: 0.3 * 3600.0,
        well_loss_s2_m5: 0.002 * 3600.0 * 3600.0,
        intake_depth_m: v.intake_depth_m,
        intake_margin_m: 1.0,
    })
    .ok()?;
    let system = System::new(well, old.system().pipes().to_vec(), 28.0, 0.0, *old.system().water()).ok()?;
    plant.sets.raw[0].pump_set = PumpSet::new(
        old.pump().clone(),
        old.motor().clone(),
        old.drive().cloned(),
        system,
        SetSheet {
            motor_cable_loss: 0.02,
            wanted_frequency_hz: v.wanted_hz,
            ..*old.fitted()
        },
    )
    .ok()?;
    plant.grid.export = match v.export {
        0 => Export::forbidden(),
        1 => Export::unpaid(),
        _ => Export::paid(MonthHour::from_array([Hourly::from_array([1e-8; 24]); 12])),
    };
    plant.design.switch_times = SwitchTimes {
        to_drive_s: v.times[0],
        grid_stable_s: v.times[1],
        to_mains_s: v.times[2],
    };
    plant.feeders.raw[0].reconnection_s = v.times[3];
    plant.grid.outages = outages(&v.outages, plant.site.axis.length_s());
    set_beside(&mut plant, &v.beside)?;
    Some(plant)
}

fn outages(pattern: &[(f64, f64)], year_s: f64) -> Outages {
    let mut intervals = Vec::new();
    let mut t = 0.0;
    for (gap_s, length_s) in pattern.iter().cycle() {
        t += gap_s;
        if t >= year_s {
            break;
        }
        intervals.push(Interval {
            start_s: t,
            end_s: t + length_s,
        });
        t += length_s;
    }
    Outages::new(intervals, year_s).0
}

/// The values of a group by key.
fn value<G: Group>(sums: &Sums<G>) -> impl Fn(&str) -> f64 {
    let all: BTreeMap<&str, f64> = sums.iter().collect();
    move |key| all[key]
}

fn check(row: &Row) -> Result<(), TestCaseError> {
    let e = &row.array_kwh;
    let available = e.of(Flow::Available);
    let uses: f64 = e.uses().map(|(_, kwh)| kwh).sum();
    let lost: f64 = LossCause::ALL.iter().map(|cause| e.lost(*cause)).sum();
    prop_assert!(
        (available - uses - lost).abs() <= 1e-9 * available.max(1.0),
        "{}: {e:?}",
        row.id
    );
    let r = &row.worst_residual;
    prop_assert!(
        r.energy <= 1e-9 && r.water <= 1e-9 && r.hours <= 1e-9,
        "{}: {r:?}",
        row.id
    );
    let b = value(&row.battery_kwh);
    let stored = b("from_array") + b("from_grid") - b("discharged") - b("stored_change");
    prop_assert!(
        stored.abs() <= 1e-9 * b("discharged").max(100.0),
        "{}: {stored}",
        row.id
    );
    let load = row.load_kwh.of(Flow::Load);
    let served: f64 = row.load_kwh.sources().map(|(_, kwh)| kwh).sum();
    let unserved = load - served - row.load_kwh.of(Flow::Unserved);
    prop_assert!(unserved.abs() <= 1e-9 * load.max(1.0), "{}: {unserved}", row.id);
    let w = value(&row.water_m3);
    let demand = w("demand");
    prop_assert!((demand - w("delivered") - w("shortfall")).abs() <= 1e-9 * demand.max(1.0));
    prop_assert!((w("pumped") - w("delivered") - w("stored_change")).abs() <= 1e-9 * demand.max(1.0));
    let at_least_nothing = |flow: &Flow| e.of(*flow).is_finite() && e.of(*flow) >= -1e-9;
    prop_assert!(
        Flow::ALL.iter().all(at_least_nothing),
        "{}: a negative flow in {row:?}",
        row.id
    );
    prop_assert!(row.hours.of(Flow::PumpingInOutage) <= row.hours.of(Flow::Pumping) + 1e-9);
    prop_assert!(row.array_use.is_none_or(|u| (0.0..=1.0 + 1e-9).contains(&u)));
    // The pump takes energy only while it delivers: a kWh lifts more than half a litre in this example.
    prop_assert!(e.of(Flow::ArrayToPump) < 1.0 || w("pumped") > 0.0);
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, ..ProptestConfig::default() })]

    #[test]
    fn every_balance_closes(variant in variants()) {
        let plant = plant_of(&variant);
        prop_assume!(plant.is_some());
        for compared in plant.iter().flat_map(|plant| compare(plant, Step::Hour, &[]).rows) {
            check(&compared.row)?;
        }
    }
}

/// Height of the restart band, a fraction of the tank: as near to a restart at full as a file can have it.
const BAND: f64 = 0.01;

proptest! {
    #![proptest_config(ProptestConfig { cases: 100, ..ProptestConfig::default() })]

    /// With the default rule and without changeover times, nothing beside mains takes water away. A tank that restarts below
    /// full allows one exception: a farm that has just filled its tank may rest while the other, a band lower, still pumps.
    /// So on a day with a shortfall, and once in the year's beginning, up to one band may be missing.
    #[test]
    fn an_array_an_inverter_or_a_battery_beside_mains_never_costs_water(variant in variants()) {
        let variant = Variant { restart: 1.0 - BAND, times: [0.0; 4], ..variant };
        let plant = plant_of(&variant);
        prop_assume!(plant.is_some());
        if let Some(mut plant) = plant {
            plant.pumping.given = GivenRule::default();
            plant.pumping.rows.clear();
            let memory = Memory::none();
            let stages = Stages::new(&plant, Step::Hour, &memory);
            let year = |row| stages.year(row, &mut NoRecorder);
            let mains = year(Arrangement::GRID_ONLY);
            for row in [Arrangement::GRID_TIED, Arrangement::DUAL_MODE, Arrangement::BATTERY_HYBRID] {
                let beside = year(row);
                let short_days = beside.ledger.days.iter().filter(|(_, short_m3)| *short_m3 > 0.0).count();
                let allowed_m3 = BAND * variant.capacity_m3 * (short_days as f64 + 1.0);
                let [alone_m3, beside_m3] = [&mains, &beside].map(|year| year.ledger.year()[Flow::Delivered]);
                let agree = mains.tank_agrees && beside.tank_agrees && beside.battery_agrees;
                prop_assert!(
                    !agree || beside_m3 >= alone_m3 - allowed_m3,
                    "{row}: {beside_m3} m³ instead of {alone_m3} m³, {short_days} days short"
                );
            }
        }
    }
}

/// With short strings the bus voltage limits the drive. What the drive takes must be on the array's curve, at a voltage
/// sufficient for its frequency.
#[test]
fn a_drive_never_takes_more_than_the_curve_gives() {
    let memory = Memory::new();
    for series in 8..=15 {
        let mut plant = EXAMPLE.clone();
        let strings = &mut plant.array.as_mut().unwrap().groups.raw[0].strings;
        *strings = StringGroup::new(strings.module().clone(), series, 4, ArrayLosses::NONE, 0.02).unwrap();
        let group = strings.clone();
        let stages = Stages::new(&plant, Step::Hour, &memory);
        let dc = stages.dc.as_ref().unwrap();
        let per_hz = plant.sets.raw[0].pump_set.bus_v_per_hz().unwrap();
        let mut running = 0;
        let drive = stages.offers.sets.raw[0].drive.as_ref().unwrap();
        for step in (0..dc.steps()).filter(|&step| drive.flow_m3_s.at(step) > 0.0) {
            running += 1;
            let taken_w = drive.to_pump_w.at(step) + drive.conversion_w.at(step) + drive.cables_w.at(step);
            let bus_v = per_hz * drive.hz[step] / (1.0 - group.cable_fraction(taken_w));
            let curve = dc.curve(0.into(), &group, step);
            let peak = curve.max_power();
            let given_w = if bus_v <= peak.voltage_v {
                peak.power_w
            } else {
                curve.power_w(bus_v)
            };
            // The pump map's error of 0.05 % shifts the frequency slightly relative to the power.
            assert!(
                taken_w <= given_w * 1.002 + 5.0,
                "{series} modules, step {step}: {taken_w} of {given_w} W"
            );
        }
        assert!(
            series < 10 || running > 100,
            "{series} modules: {running} steps with flow"
        );
    }
}
