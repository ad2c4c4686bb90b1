//! Recomputes every suitable layout from datasheet values; checks the effect of a colder morning and of violated rules.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use daylift_electrics::{
    Confirmed, Device, Found, Judge, Layout, Remedy, Rule, Search, Shares, SpeedLimit, SubArray, Subject, findings,
    groups_of_file, rests_on_unconfirmed, search,
};
use daylift_plant::Plant;
use daylift_plant_file::read_plant;
use proptest::prelude::*;

/// The files of the example Mulenga Ridge, whose values a test can change.
struct Files(Vec<(&'static str, String)>);

const NAMES: [&str; 14] = [
    "plant.toml",
    "module.toml",
    "inverter.toml",
    "drive.toml",
    "motor.toml",
    "pump.toml",
    "battery.toml",
    "generator.toml",
    "weather.csv",
    "outages.csv",
    "cold-room.csv",
    "pack-shed.csv",
    "README.md",
    "make_weather.py",
];

impl Files {
    fn new() -> Self {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/mulenga-ridge");
        Self(NAMES.map(|name| (name, fs::read_to_string(folder.join(name)).unwrap())).to_vec())
    }

    /// Sets the number of a key, or removes the key. The key must occur exactly once in the file.
    fn set(&mut self, file: &str, key: &str, value: impl Into<Option<f64>>) {
        let (_, text) = self.0.iter_mut().find(|(name, _)| *name == file).unwrap();
        let line = |line: &&str| line.starts_with(&format!("{key} ="));
        assert_eq!(text.lines().filter(line).count(), 1, "{key} in {file}");
        let changed = value.into().map_or_else(String::new, |value| format!("{key} = {value}"));
        let lines: Vec<&str> = text.lines().map(|l| if line(&l) { changed.as_str() } else { l }).collect();
        *text = lines.join("\n") + "\n";
    }

    fn with(mut self, values: &[(&str, &str, f64)]) -> Self {
        for (file, key, value) in values {
            self.set(file, key, *value);
        }
        self
    }

    fn plant(&self) -> Plant {
        let folder = tempfile::tempdir().unwrap();
        for (name, text) in &self.0 {
            fs::write(folder.path().join(name), text).unwrap();
        }
        read_plant(folder.path())
            .map(|read| read.plant)
            .map_err(|faults| format!("{faults:?}"))
            .unwrap()
    }
}

fn searched(plant: &Plant) -> Search {
    let array = plant.array.as_ref().unwrap();
    search(&Judge::new(plant, array), &SubArray::all(array)[0])
}

/// Every value is confirmed except one.
struct AllBut(&'static str);

impl Confirmed for AllBut {
    fn is_given(&self, key: &str) -> bool {
        key != self.0
    }

    fn is_assumed(&self, section: &str) -> bool {
        section == self.0
    }
}

/// The rules that the strings of the plant file violate, in order.
fn forbidden(plant: &Plant) -> Vec<Rule> {
    let judge = Judge::new(plant, plant.array.as_ref().unwrap());
    let judged = judge.judge(&groups_of_file(plant, judge.array()).raw);
    judged.measures.iter().filter(|m| m.forbids()).map(|m| m.rule).collect()
}

/// Random limits and strings.
#[derive(Debug, Clone)]
struct Limits {
    record_low_c: f64,
    drive_v: f64,
    drive_start_v: f64,
    drive_short_circuit_a: f64,
    inverter_v: f64,
    inputs: u32,
    per_input: u32,
    input_short_circuit_a: f64,
    system_v: f64,
    fuse_a: f64,
    modules_per_string: u32,
    strings: u32,
}

fn limits() -> impl Strategy<Value = Limits> {
    let volts = (
        -20.0..12.0_f64,
        550.0..1000.0_f64,
        200.0..600.0_f64,
        850.0..1100.0_f64,
        500.0..1500.0_f64,
    );
    let amperes = (46.0..140.0_f64, 32.0..70.0_f64, 15.0..35.0_f64);
    let counts = (1_u32..5, 1_u32..4, 10_u32..18, 1_u32..7);
    (volts, amperes, counts).prop_map(|(v, a, n)| Limits {
        record_low_c: v.0,
        drive_v: v.1,
        drive_start_v: v.2.min(v.1),
        inverter_v: v.3,
        system_v: v.4,
        drive_short_circuit_a: a.0,
        input_short_circuit_a: a.1,
        fuse_a: a.2,
        inputs: n.0,
        per_input: n.1,
        modules_per_string: n.2,
        strings: n.3,
    })
}

impl Limits {
    fn plant(&self) -> Plant {
        let mut files = Files::new().with(&[
            ("plant.toml", "record_low_c", self.record_low_c),
            ("plant.toml", "modules_per_string", f64::from(self.modules_per_string)),
            ("plant.toml", "strings", f64::from(self.strings)),
            ("drive.toml", "greatest_dc_v", self.drive_v),
            ("drive.toml", "start_dc_v", self.drive_start_v),
            ("drive.toml", "dc_short_circuit_a", self.drive_short_circuit_a),
            ("inverter.toml", "greatest_dc_v", self.inverter_v),
            ("inverter.toml", "mppt_inputs", f64::from(self.inputs)),
            ("inverter.toml", "strings_per_input", f64::from(self.per_input)),
            ("inverter.toml", "input_short_circuit_a", self.input_short_circuit_a),
            ("module.toml", "system_voltage_v", self.system_v),
            ("module.toml", "greatest_fuse_a", self.fuse_a),
        ]);
        files.set("plant.toml", "strings_per_input", None);
        files.plant()
    }

    /// Whether a layout keeps every limit of `docs/model.md` §17 except the speed. Datasheet values are copied from the
    /// example's files.
    fn keeps(&self, layout: &Layout) -> bool {
        let (isc_a, open_v, per_k) = (13.80, 47.0, -0.1316);
        let n = f64::from(layout.series);
        // The weather file's coldest hour is 12 °C.
        let cold_v = n * (open_v + per_k * (self.record_low_c.min(12.0) - 25.0));
        let on_drive: u32 = layout.shares[0].to_drives.iter().map(|(_, k)| k).sum();
        let idle = layout.shares[0].idle;
        let on_input = layout.per_input.min(on_drive.max(idle));
        let inputs = on_drive.div_ceil(layout.per_input) + idle.div_ceil(layout.per_input);
        let fused = |parallel: u32| {
            let reverse_a = f64::from(parallel.saturating_sub(1)) * isc_a;
            let ratings = [16.0, 20.0, 25.0, 30.0, 32.0, 35.0];
            reverse_a <= self.fuse_a
                || ratings.iter().any(|r| *r > 1.5 * isc_a && *r < 2.4 * isc_a && *r <= self.fuse_a)
        };
        cold_v <= self.drive_v.min(self.inverter_v).min(self.system_v)
            && on_input <= self.per_input
            && inputs <= self.inputs
            && 1.25 * f64::from(on_input) * isc_a <= self.input_short_circuit_a
            && 1.25 * f64::from(on_drive) * isc_a <= self.drive_short_circuit_a
            && fused(on_input)
            && fused(on_drive)
            && on_drive > 0
    }
}

/// Whether the strings can start the pump at some voltage of their curve, with a flux that the drive may set. Tries
/// 20,001 points.
fn has_speed(plant: &Plant, layout: &Layout) -> bool {
    let judge = Judge::new(plant, plant.array.as_ref().unwrap());
    let drive = layout.judged.drives[0];
    let set = &plant.sets.raw[0].pump_set;
    let hz = drive.allowed.start_hz;
    let need_v = set.bus_need_v(hz).unwrap();
    let at = set.at_speed(drive.allowed.month, hz).unwrap();
    let least = set.drive().unwrap().rating().least_flux;
    let c = judge.conditions();
    let bus = judge.on_bus(layout.series, drive.strings, c.noon_w_m2, c.noon_cell_c).unwrap();
    let open_v = bus.curve.open_circuit_v();
    (0..=20_000).map(|i| open_v * f64::from(i) / 20_000.0).any(|v| {
        let sent_w = bus.curve.power_w(v);
        let through = 1.0 - bus.cable.fraction(sent_w);
        let share = (v * through / need_v).min(1.0);
        share >= least * (1.0 - 1e-4) && sent_w * through >= at.input_w(share) * (1.0 - 1e-3)
    })
}

fn names(found: &Search) -> BTreeSet<(u32, u32, Vec<Shares>)> {
    found.layouts.iter().map(|l| (l.series, l.per_input, l.shares.clone())).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn no_layout_that_suits_breaks_a_limit_when_recomputed(limits in limits()) {
        let plant = limits.plant();
        for layout in searched(&plant).layouts {
            prop_assert!(limits.keeps(&layout), "{} in series, {:?}", layout.series, layout.shares);
            prop_assert!(has_speed(&plant, &layout), "{} in series, {:?}", layout.series, layout.shares);
            let hot_v = f64::from(layout.series);
            let volts = Judge::new(&plant, plant.array.as_ref().unwrap()).conditions().module;
            prop_assert!(hot_v * volts.hot_max_power_v >= 250.0 && hot_v * volts.hot_open_v >= limits.drive_start_v);
        }
    }

    #[test]
    fn a_colder_morning_never_adds_layouts(limits in limits(), colder_k in 0.1..25.0_f64) {
        let colder = Limits { record_low_c: limits.record_low_c - colder_k, ..limits.clone() };
        let (mild, cold) = (searched(&limits.plant()), searched(&colder.plant()));
        prop_assert!(names(&cold).is_subset(&names(&mild)));
    }
}

/// Worked by hand: at −4 °C a module of 47 V and −0.1316 V/K has 50.8164 V. 16 of them have 813.0624 V, 13.1 V above
/// 800 V.
#[test]
fn a_string_too_long_for_the_drive_is_reported_with_value_limit_and_remedy() {
    let files = Files::new().with(&[
        ("plant.toml", "record_low_c", -4.0),
        ("plant.toml", "modules_per_string", 16.0),
    ]);
    let plant = files.plant();
    let judge = Judge::new(&plant, plant.array.as_ref().unwrap());
    let groups = groups_of_file(&plant, judge.array()).raw;
    let judged = judge.judge(&groups);
    let all = findings(&judge, &groups, &judged, &AllBut("site.record_low_c"));
    let first = &all[0];
    assert_eq!(first.id(), Subject::Rule(Rule::ColdVoltageOnDrive));
    let Found::Broken { measure, remedy } = &first.found else {
        unreachable!("{first:?}")
    };
    assert!((measure.beyond() - 13.0624).abs() < 1e-6);
    let (count, device) = (15.0, 814.0);
    assert_eq!(*remedy, Remedy::CountOrDevice { count, device });
    assert_eq!(first.unconfirmed, ["site.record_low_c"]);
    assert!((measure.value - 813.0624).abs() < 1e-6 && measure.limit == Some(800.0));
}

/// Worked by hand: of three strings of 13.8 A, two drive 27.6 A back through the third, above 20 A. No fuse is suitable,
/// as 1.5 · 13.8 A = 20.7 A is above 20 A too. On the inverter, of two strings one drives 13.8 A back, below 20 A.
#[test]
fn strings_without_a_suitable_fuse_violate_the_rule_only_on_the_drive() {
    let plant = Files::new().with(&[("module.toml", "greatest_fuse_a", 20.0)]).plant();
    assert_eq!(forbidden(&plant), [Rule::FuseOnDrive]);
}

/// Worked by hand: four strings of two on an input take two inputs, and 1.25 · 4 · 13.8 A = 69 A is above 63 A.
#[test]
fn one_string_more_than_the_drive_allows() {
    let mut files = Files::new().with(&[("plant.toml", "strings", 4.0)]);
    files.set("inverter.toml", "greatest_dc_power_kw", 40.0);
    files.set("drive.toml", "greatest_dc_power_kw", 40.0);
    let plant = files.plant();
    assert_eq!(forbidden(&plant), [Rule::ShortCircuitOnDrive]);
    // The search puts three of them on the drive.
    let found = searched(&plant);
    assert!(
        found
            .layouts
            .iter()
            .any(|l| l.series == 15 && l.shares[0].to_drives == [(0.into(), 3)] && l.shares[0].idle == 1)
            || found.refused.iter().any(|r| r.nearest.rule == Rule::Inputs)
    );
}

/// A drive for 640 V allows strings of 12 modules (50.03 V each at 2 °C), with which the pump is slow: only a warning.
#[test]
fn a_slow_pump_rules_out_no_layout_but_warns() {
    let plant = Files::new().with(&[("drive.toml", "greatest_dc_v", 640.0)]).plant();
    let found = searched(&plant);
    assert!(!found.layouts.is_empty());
    for layout in &found.layouts {
        assert!(layout.series <= 12);
        let slow = layout.judged.measures.iter().find(|m| m.rule == Rule::UsefulSpeed).unwrap();
        assert!(slow.breaks && !slow.forbids() && slow.value < slow.limit.unwrap());
        assert_eq!(layout.judged.drives[0].noon.limit, SpeedLimit::Voltage);
    }
}

/// A drive for 300 V allows strings of 5 modules (50.03 V each at 2 °C), with which the pump does not start.
#[test]
fn where_no_layout_is_suitable_each_sufficient_change_is_reported() {
    let plant = Files::new()
        .with(&[
            ("drive.toml", "greatest_dc_v", 300.0),
            ("drive.toml", "start_dc_v", 100.0),
        ])
        .plant();
    let found = searched(&plant);
    assert!(found.layouts.is_empty());
    let cold = found.changes.iter().find(|c| c.measure.rule == Rule::ColdVoltageOnDrive).unwrap();
    assert_eq!(cold.measure.device, Device::Drive(0.into()));
    // So many modules at 50.0268 V each.
    assert!((cold.measure.value - f64::from(cold.series) * 50.0268).abs() < 0.01);
    assert_eq!(cold.measure.limit, Some(300.0));
}

#[test]
fn a_limit_that_no_datasheet_gives_is_reported_as_not_given_and_unconfirmed() {
    let mut files = Files::new();
    files.set("drive.toml", "dc_short_circuit_a", None);
    files.set("inverter.toml", "greatest_dc_v", None);
    let plant = files.plant();
    let judge = Judge::new(&plant, plant.array.as_ref().unwrap());
    let groups = groups_of_file(&plant, judge.array()).raw;
    let judged = judge.judge(&groups);
    let unconfirmed = rests_on_unconfirmed(&judge, &judged, &AllBut(""));
    assert_eq!(unconfirmed, ["inverter.greatest_dc_v", "drive.dc_short_circuit_a"]);
    let all = findings(&judge, &groups, &judged, &AllBut(""));
    let not_given: Vec<&str> = all
        .iter()
        .filter(|f| matches!(f.found, Found::NotGiven { .. }))
        .map(|f| f.id().id())
        .collect();
    assert_eq!(not_given, ["cold-voltage-on-inverter", "short-circuit-on-drive"]);
}

#[test]
fn a_section_marked_as_assumed_is_reported_in_place_of_its_keys() {
    let plant = Files::new().plant();
    let judge = Judge::new(&plant, plant.array.as_ref().unwrap());
    let judged = judge.judge(&groups_of_file(&plant, judge.array()).raw);
    assert!(rests_on_unconfirmed(&judge, &judged, &AllBut("")).is_empty());
    for section in [
        "module", "array", "motor", "pump", "pipe", "outlet", "well", "inverter", "drive",
    ] {
        assert_eq!(rests_on_unconfirmed(&judge, &judged, &AllBut(section)), [section]);
    }
}

/// The weather file's coldest hour is 12 °C, its hottest 31.3 °C: neither 20 °C nor 30 °C can be the record.
#[test]
fn a_record_that_the_weather_file_exceeds_is_unconfirmed() {
    let files = Files::new().with(&[
        ("plant.toml", "record_low_c", 20.0),
        ("plant.toml", "record_high_c", 30.0),
    ]);
    let plant = files.plant();
    let judge = Judge::new(&plant, plant.array.as_ref().unwrap());
    let groups = groups_of_file(&plant, judge.array()).raw;
    let judged = judge.judge(&groups);
    assert_eq!(
        rests_on_unconfirmed(&judge, &judged, &AllBut("")),
        ["site.record_low_c", "site.record_high_c"]
    );
    let all = findings(&judge, &groups, &judged, &AllBut(""));
    assert_eq!(all.iter().filter(|f| f.id() == Subject::Record).count(), 2);
}

/// Three inputs of at most 14 A: two strings on one input give 26.1 A and clip; three strings on three inputs do not.
#[test]
fn a_limit_that_only_clips_is_a_warning() {
    let files = Files::new().with(&[
        ("inverter.toml", "mppt_inputs", 3.0),
        ("inverter.toml", "input_current_a", 14.0),
    ]);
    let found = searched(&files.plant());
    let clips = |per_input: u32| {
        let layout = found
            .layouts
            .iter()
            .find(|l| l.series == 15 && l.per_input == per_input && l.shares[0].idle == 0);
        layout.unwrap().judged.measures.iter().any(|m| m.rule == Rule::CurrentOnInput && m.breaks)
    };
    assert!(clips(2) && !clips(1));
}
