//! A change of any field within its range changes some number of the comparison; for a field about strings only, of the
//! answer on strings.

use std::sync::LazyLock;

use daylift_plant::Wiring;
use daylift_plant_file::Read;
use daylift_plant_file::outline::FILES;
use daylift_study::answer::{Money, WeatherSummary, WorstResidual};
use daylift_study::strings::{StringsAnswer, judge_strings};
use daylift_study::{ComparedRow, Notice, Row, compare};
use daylift_supply::Flow;
use daylift_units::{Field, Step};
use toml::Value;

use crate::complaints;
use crate::copy::{Copy, Edit};

/// Fields that may have no effect, and why.
const WITHOUT_EFFECT: [(&str, &str); 7] = [
    ("format", "there is one format only"),
    (
        "weather.utc_offset_h",
        "with plain CSV in the tests of the command line",
    ),
    (
        "weather.cloud_seed",
        "within the hour, in the tests of the command line",
    ),
    (
        "grid.timetable.stage",
        "with a timetable of its own in the tests of the command line",
    ),
    (
        "grid.voltage.least_pu",
        "with readings of their own in the tests of the command line",
    ),
    (
        "grid.voltage.greatest_pu",
        "with readings of their own in the tests of the command line",
    ),
    (
        "grid.voltage.nominal_v",
        "with readings of their own in the tests of the command line",
    ),
];

/// A special change of a field: edits that prepare the example so that the field can have an effect, and edits that
/// change the field.
struct Special {
    kind: &'static str,
    path: &'static str,
    ground: Vec<Edit>,
    change: Vec<Edit>,
}

fn edit(kind: &'static str, path: &str, value: impl Into<Value>) -> Edit {
    (kind, path.to_owned(), Some(value.into()))
}

fn special(kind: &'static str, path: &'static str, ground: Vec<Edit>, change: Vec<Edit>) -> Special {
    Special {
        kind,
        path,
        ground,
        change,
    }
}

/// Changes the field itself, without preparing the example.
fn moved(kind: &'static str, path: &'static str, value: impl Into<Value>) -> Special {
    special(kind, path, Vec::new(), vec![edit(kind, path, value)])
}

fn specials() -> Vec<Special> {
    let plant = |path: &str, value: Value| edit("plant", path, value);
    let boundary = || {
        vec![
            plant("tariff.season.prices#0.to_h", 7.into()),
            plant("tariff.season.prices#1.from_h", 7.into()),
        ]
    };
    let low_intake = || vec![plant("well.intake_depth_m", 57.0.into())];
    let shaft_kw = |factor: f64| {
        let kw = [5.6, 6.9, 8.0, 9.0, 9.4, 10.6, 9.5, 9.6].map(|kw| kw * factor);
        vec![
            ("pump", "efficiency_pct".to_owned(), None),
            edit("pump", "shaft_power_kw", kw.to_vec()),
        ]
    };
    let line = || {
        let table = "resistance_ohm_per_km = 0.868\nlength_m = 900\nno_load_voltage_pct = 107\n";
        vec![plant("grid.line", toml::from_str::<toml::Table>(table).unwrap().into())]
    };
    let on_line = |path: &'static str, value: Value| special("plant", path, line(), vec![edit("plant", path, value)]);
    let switched = || {
        let table = "kind = \"switch\"\ntakes_over_below_pct = 85\n";
        vec![plant(
            "grid_input",
            toml::from_str::<toml::Table>(table).unwrap().into(),
        )]
    };
    let random = |more: &str| {
        let table = format!("seed = 7\nmean_outage_h = 2.5\n{more}");
        vec![plant(
            "grid.random",
            toml::from_str::<toml::Table>(&table).unwrap().into(),
        )]
    };
    let made = |more: &[Edit]| {
        let ground = [
            ("plant", "weather.file".to_owned(), None),
            plant("weather.synthetic", true.into()),
        ];
        ground.iter().chain(more).cloned().collect::<Vec<Edit>>()
    };
    let with_air = || {
        made(&[
            plant("weather.air_mean_c", vec![21; 12].into()),
            plant("weather.air_low_c", vec![14; 12].into()),
            plant("weather.air_high_c", vec![29; 12].into()),
        ])
    };
    let on_ground =
        |path: &'static str, ground: Vec<Edit>, value: Value| special("plant", path, ground, vec![plant(path, value)]);
    let turning = || {
        vec![
            plant("array.mounting", "single-axis".into()),
            ("plant", "array.tilt_deg".to_owned(), None),
            ("plant", "array.azimuth_deg".to_owned(), None),
        ]
    };
    let in_rows = || {
        vec![
            plant("array.row_pitch_m", 4.0.into()),
            plant("array.row_width_m", 2.2.into()),
        ]
    };
    let closed_by_hand = || {
        vec![
            plant("pumping.restart", "by-hand".into()),
            plant("pumping.attended_hours", vec![6, 18].into()),
        ]
    };
    let by_share = || random("share_pct = 9");
    let weights = |n: usize| (0..n).map(|i| if i < n / 2 { 1 } else { 3 }).collect::<Vec<i64>>();
    vec![
        on_ground("weather.daily_ghi_kwh_m2", made(&[]), vec![5.6; 12].into()),
        on_ground("weather.seed", made(&[]), 2.into()),
        on_ground("weather.wind_m_s", made(&[]), 2.5.into()),
        on_ground("weather.air_mean_c", with_air(), 22.into()),
        on_ground("weather.air_low_c", with_air(), 13.into()),
        on_ground("weather.air_high_c", with_air(), 30.into()),
        moved("plant", "site.horizon_deg", vec![0, 12, 8, 0, 0, 5, 20, 3]),
        on_ground("array.axis_azimuth_deg", turning(), 30.into()),
        on_ground("array.axis_tilt_deg", turning(), 5.into()),
        on_ground("array.greatest_rotation_deg", turning(), 50.into()),
        on_ground("array.row_pitch_m", in_rows(), 4.4.into()),
        on_ground("array.row_width_m", in_rows(), 2.5.into()),
        on_line("grid.line.resistance_ohm_per_km", 0.9.into()),
        on_line("grid.line.length_m", 950.into()),
        on_line("grid.line.nominal_v", 415.into()),
        on_line("grid.line.no_load_voltage_pct", 107.5.into()),
        on_line("grid.line.greatest_voltage_pct", 109.into()),
        special(
            "plant",
            "grid_input.takes_over_below_pct",
            switched(),
            vec![plant("grid_input.takes_over_below_pct", 97.into())],
        ),
        moved("plant", "grid_input.hours", vec![7, 17]),
        moved("plant", "grid_input.wanted_speed_pct", vec![85; 24]),
        moved("plant", "grid_input.line_voltage_v", 380),
        moved("plant", "grid.export_limit_kw", 2),
        special(
            "plant",
            "tariff.season.prices.credit_per_kwh",
            Vec::new(),
            vec![plant("tariff.season.prices#1.credit_per_kwh", 0.03.into())],
        ),
        special(
            "battery",
            "discharge_kw",
            vec![edit("battery", "discharge_kw", 14)],
            vec![edit("battery", "discharge_kw", 15)],
        ),
        // Counts hours only, and the set's load has a few values.
        moved("generator", "least_load_pct", 0),
        moved("plant", "generator.attended_hours", vec![7, 19]),
        special(
            "plant",
            "generator.sun_share_pct",
            vec![
                plant("generator.beside", vec!["solar-drive"].into()),
                plant("generator.pumps_when", "water-is-wanted".into()),
            ],
            vec![plant("generator.sun_share_pct", 80.into())],
        ),
        moved("plant", "night_tank.hours", vec![21, 8]),
        special(
            "plant",
            "grid.random.seed",
            by_share(),
            vec![plant("grid.random.seed", 8.into())],
        ),
        special(
            "plant",
            "grid.random.mean_outage_h",
            by_share(),
            vec![plant("grid.random.mean_outage_h", 3.into())],
        ),
        special(
            "plant",
            "grid.random.share_pct",
            by_share(),
            vec![plant("grid.random.share_pct", 10.into())],
        ),
        special(
            "plant",
            "grid.random.mean_up_h",
            random("mean_up_h = 30"),
            random("mean_up_h = 40"),
        ),
        special(
            "plant",
            "grid.random.hour_weight",
            by_share(),
            vec![plant("grid.random.hour_weight", weights(24).into())],
        ),
        special(
            "plant",
            "grid.random.month_weight",
            by_share(),
            vec![plant("grid.random.month_weight", weights(12).into())],
        ),
        special(
            "plant",
            "array.noct_c",
            vec![plant("array.cell_temperature", "noct".into())],
            vec![plant("array.noct_c", 48.into())],
        ),
        // 0 in the example, or a direction: a change by a share does not work.
        moved("plant", "array.azimuth_deg", 10),
        moved("plant", "array.age_years", 1),
        moved("plant", "money.export_credit_escalation_pct", 2),
        moved("plant", "money.capital.owned", 0.5),
        moved("plant", "money.value_of_lost_water_per_m3", 0.4),
        moved("plant", "money.value_of_lost_load_per_kwh", 0.4),
        moved("plant", "outlet.pressure_bar", 0.2),
        moved("plant", "site.longitude_deg", 28.5),
        // Hours and months must stay consistent; only the ratios of weights count.
        moved("plant", "pumping.mains_hours", vec![7, 17]),
        on_ground("pumping.attended_hours", closed_by_hand(), vec![9, 15].into()),
        on_ground("pumping.restart_delay_s", closed_by_hand(), 3600.into()),
        moved("plant", "pumping.mains_fill_pct", 70),
        // Surplus matters while the bus is not open, and the low mark outside the hours.
        on_ground(
            "pumping.surplus_pct",
            vec![plant("pumping.mains_fill_pct", 60.into())],
            80.into(),
        ),
        moved("plant", "pumping.row.mains_hours", vec![6, 20]),
        moved("plant", "pumping.row.mains_fill_pct", 60),
        on_ground(
            "pumping.row.low_mark_pct",
            vec![plant("pumping.row.mains_hours", vec![6, 18].into())],
            40.into(),
        ),
        on_ground(
            "pumping.row.surplus_pct",
            vec![
                plant("pumping.mains_fill_pct", 60.into()),
                plant("pumping.row.arrangements", vec!["grid-tied"].into()),
            ],
            80.into(),
        ),
        moved("plant", "demand.hour_share", [[1; 12], [2; 12]].concat()),
        special("plant", "tariff.season.prices.from_h", Vec::new(), boundary()),
        special("plant", "tariff.season.prices.to_h", Vec::new(), boundary()),
        special(
            "plant",
            "tariff.season.months",
            Vec::new(),
            vec![
                plant("tariff.season#0.months", vec![1, 2, 3, 4, 11].into()),
                plant("tariff.season#1.months", vec![5, 6, 7, 8, 9, 10, 12].into()),
            ],
        ),
        // Values that the example leaves out or that do not limit anything in it.
        moved("plant", "pump.wanted_frequency_hz", 47),
        moved("drive", "greatest_frequency_hz", 47),
        moved("motor", "least_frequency_hz", 42),
        moved("inverter", "start_power_w", 1500),
        moved("drive", "retry_wait_s", vec![7200]),
        moved("inverter", "derating_temperature_c", 20),
        special(
            "inverter",
            "heat_derating_pct_per_k",
            vec![edit("inverter", "derating_temperature_c", 20)],
            vec![edit("inverter", "heat_derating_pct_per_k", 6)],
        ),
        special(
            "plant",
            "well.intake_depth_m",
            low_intake(),
            vec![plant("well.intake_depth_m", 56.5.into())],
        ),
        special(
            "plant",
            "well.intake_margin_m",
            low_intake(),
            vec![plant("well.intake_margin_m", 3.5.into())],
        ),
        special(
            "inverter",
            "mppt_min_v",
            vec![edit("inverter", "mppt_min_v", 540)],
            vec![edit("inverter", "mppt_min_v", 570)],
        ),
        special(
            "inverter",
            "mppt_max_v",
            vec![edit("inverter", "mppt_max_v", 560)],
            vec![edit("inverter", "mppt_max_v", 530)],
        ),
        special("pump", "shaft_power_kw", shaft_kw(1.0), shaft_kw(1.03)),
    ]
}

/// Fields that only affect the checks of strings, and change no year.
const OF_STRINGS: [(&str, &str); 19] = [
    ("plant", "site.record_low_c"),
    ("plant", "site.record_high_c"),
    ("plant", "array.strings_per_input"),
    ("plant", "strings.noon_w_m2"),
    ("plant", "strings.noon_wind_m_s"),
    ("plant", "strings.useful_speed_pct"),
    ("module", "system_voltage_v"),
    ("module", "greatest_fuse_a"),
    ("inverter", "greatest_dc_v"),
    ("inverter", "mppt_inputs"),
    ("inverter", "strings_per_input"),
    ("inverter", "input_current_a"),
    ("inverter", "input_short_circuit_a"),
    ("inverter", "greatest_dc_power_kw"),
    ("drive", "greatest_dc_v"),
    ("drive", "start_dc_v"),
    ("drive", "dc_current_a"),
    ("drive", "dc_short_circuit_a"),
    ("drive", "greatest_dc_power_kw"),
];

/// Limits of starts, each with a value that the example exceeds and one that it does not: they change no number, and there
/// is a notice where a year exceeds them.
const OF_STARTS: [(&str, &str, [i64; 2]); 4] = [
    ("plant", "changeover.rated_cycles", [100, 100_000_000]),
    ("drive", "max_power_ups_per_day", [1, 1440]),
    ("motor", "max_starts_per_day", [1, 1440]),
    ("motor", "min_time_between_starts_s", [7200, 1]),
];

/// Checks that no number of a year changes, and that the limit that is exceeded makes a notice.
fn of_starts(kind: &'static str, path: &str, [exceeded, kept]: [i64; 2]) -> Option<String> {
    let (base, before) = &*BASE;
    let with = |limit: i64| base.clone().with(&[edit(kind, path, limit)]).read().unwrap();
    let notices = |read: &Read| {
        let rows = compare(&read.plant, Step::Hour, &[]).rows;
        rows.iter().map(|row| row.own_notices.len()).sum::<usize>()
    };
    let (exceeded, kept) = (with(exceeded), with(kept));
    if answer(&exceeded) != *before {
        return Some(format!(
            "{kind} {path}: changes a year, and is said to be a limit of starts"
        ));
    }
    (notices(&exceeded) <= notices(&kept)).then(|| format!("{kind} {path}: makes no notice"))
}

/// The answer on strings.
fn strings(read: &Read) -> StringsAnswer {
    judge_strings(&read.plant, &read.origins, Step::Hour, &mut |_, _| ()).unwrap()
}

static STRINGS: LazyLock<StringsAnswer> = LazyLock::new(|| strings(&BASE.0.read().unwrap()));

/// Checks that no number of a year changes and one of the strings does.
fn of_strings(kind: &'static str, path: &str, field: &Field) -> Option<String> {
    let (base, before) = &*BASE;
    for by in [0.05, -0.05] {
        let Some(value) = beside(field, base.get(kind, path), by) else {
            break;
        };
        if let Ok(read) = base.clone().with(&[(kind, path.to_owned(), Some(value))]).read() {
            if answer(&read) != *before {
                return Some(format!(
                    "{kind} {path}: changes a year, and is said to be of strings alone"
                ));
            }
            return (strings(&read) == *STRINGS).then(|| format!("{kind} {path}: nothing of the strings changes"));
        }
    }
    Some(format!("{kind} {path}: no other value is allowed"))
}

static BASE: LazyLock<(Copy, Answer)> = LazyLock::new(|| {
    let copy = Copy::new();
    let answer = answer(&copy.read().unwrap());
    (copy, answer)
});

/// Weather and rows.
type Answer = (WeatherSummary, Vec<Row>);

/// The comparison without notices and rounding, which are not results.
fn answer(read: &Read) -> Answer {
    let full = compare(&read.plant, Step::Hour, &[]);
    let mut rows: Vec<Row> = full.rows.into_iter().map(|compared| compared.row).collect();
    for row in &mut rows {
        row.worst_residual = WorstResidual {
            energy: 0.0,
            water: 0.0,
            hours: 0.0,
        };
    }
    (full.weather, rows)
}

/// A value slightly different from the present value or the default.
fn beside(field: &Field, present: Option<Value>, by: f64) -> Option<Value> {
    let moved = |value: f64| {
        if field.whole {
            value + by.signum()
        } else {
            value * (1.0 + by)
        }
    };
    let number = |value: &Value| value.as_float().or_else(|| value.as_integer().map(|i| i as f64));
    match present {
        Some(Value::Array(items)) => {
            let items: Option<Vec<f64>> = items.iter().map(|v| number(v).map(moved)).collect();
            items.map(Value::from)
        }
        Some(value) => number(&value).map(moved).map(Value::Float),
        None => field.preset.map(|preset| Value::Float(moved(preset.value))),
    }
}

fn generic(kind: &'static str, path: &str, field: &Field) -> Option<String> {
    let (base, before) = &*BASE;
    for by in [0.05, -0.05, 0.02, -0.02] {
        let Some(value) = beside(field, base.get(kind, path), by) else {
            break;
        };
        let edit: Edit = (kind, path.to_owned(), Some(value));
        if let Ok(read) = base.clone().with(&[edit]).read() {
            let same = answer(&read) == *before;
            return same.then(|| format!("{kind} {path}: no number changes when it is changed by {by}"));
        }
    }
    Some(format!("{kind} {path}: no other value is allowed"))
}

fn by_hand(case: &Special) -> Option<String> {
    let (base, before) = &*BASE;
    let base = base.clone().with(&case.ground);
    let before = if case.ground.is_empty() {
        before.clone()
    } else {
        answer(&base.read().unwrap())
    };
    let read = base
        .with(&case.change)
        .read()
        .unwrap_or_else(|faults| panic!("{}: {faults:?}", case.path));
    (answer(&read) == before).then(|| format!("{} {}: no number changes", case.kind, case.path))
}

#[test]
fn without_a_change_nothing_changes() {
    let (base, before) = &*BASE;
    assert!(answer(&base.read().unwrap()) == *before);
}

/// A diesel engine burns by its own curve; its minimum load only decides which hours are reported.
#[test]
fn the_minimum_load_of_a_generator_changes_notices_only() {
    let with = |least_load: f64| {
        let read = BASE.0.clone().with(&[edit("generator", "least_load_pct", least_load)]).read().unwrap();
        compare(&read.plant, Step::Hour, &[]).rows
    };
    let costs = |rows: &[ComparedRow]| -> Vec<(f64, Money)> {
        rows.iter().map(|one| (one.row.generator.of(Flow::Fuel), one.row.money.clone())).collect()
    };
    let (none, usual) = (with(0.0), with(30.0));
    assert_eq!(costs(&none), costs(&usual));
    let reports = |rows: &[ComparedRow]| rows.iter().flat_map(|one| &one.own_notices).any(is_low_load);
    assert!(!reports(&none) && reports(&usual));
}

fn is_low_load(notice: &Notice) -> bool {
    matches!(notice, Notice::GeneratorLowLoad { .. })
}

#[test]
fn every_field_has_an_effect() {
    let specials = specials();
    let mut fields = Vec::new();
    for (kind, table) in FILES {
        for (path, key) in table.walk() {
            let excepted = WITHOUT_EFFECT.iter().any(|(name, _)| *name == path);
            // A field that several sections share is changed once, in the form that the example has.
            let seen = |field: &Field| fields.iter().any(|(k, _, f): &(_, _, &Field)| *k == kind && *f == field);
            if let (Some(field), false) = (key.field(), excepted)
                && !seen(field)
            {
                fields.push((kind, path, field));
            }
        }
    }
    for case in &specials {
        let known = fields.iter().any(|(kind, path, _)| *kind == case.kind && path == case.path);
        assert!(known, "{} {} is no field", case.kind, case.path);
    }
    let wirings: Vec<Wiring> = BASE.1.1.iter().map(|row| row.id.wiring).collect();
    assert!(Wiring::ALL.iter().all(|wiring| wirings.contains(wiring)));
    let idle = complaints(&fields, |(kind, path, field)| {
        if OF_STRINGS.contains(&(*kind, path.as_str())) {
            return of_strings(kind, path, field);
        }
        if let Some((.., limits)) = OF_STARTS.iter().find(|(of, name, _)| of == kind && name == path) {
            return of_starts(kind, path, *limits);
        }
        match specials.iter().find(|case| case.kind == *kind && case.path == path) {
            Some(case) => by_hand(case),
            None => generic(kind, path, field),
        }
    });
    assert!(idle.is_empty(), "{}", idle.join("\n"));
}
