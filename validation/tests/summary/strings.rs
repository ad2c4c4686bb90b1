//! Strings on inverter and drive: every layout of the examples compared with a second program, and published cold voltages.

use std::collections::BTreeSet;
use std::path::Path;

use daylift_array::StringGroup;
use daylift_electrics::{
    Conditions, Device, Judge, Judged, Layout, Length, ModuleVolts, PlannedGroup, Rule, SubArray, search,
};
use daylift_plant::Plant;
use daylift_plant_file::read_plant;
use daylift_validation::{Allowed, Report, Row, Worst};

use crate::data::{Outcome, Table, faults_text, root};

const PROGRAM: &str = "independent program, pvlib + scipy";
const EXAMPLES: [&str; 3] = ["mulenga-ridge", "three-weirs", "tamarind-post"];

pub(crate) fn check(report: &mut Report) -> Outcome {
    let tables = Tables {
        conditions: Table::read("strings_conditions.csv")?,
        lengths: Table::read("strings_lengths.csv")?,
        layouts: Table::read("strings_layouts.csv")?,
    };
    for example in EXAMPLES {
        let plant = read(example)?;
        let array = plant.array.as_ref().ok_or("no array")?;
        let judge = Judge::new(&plant, array);
        conditions(report, example, judge.conditions(), &tables.conditions)?;
        lengths(report, example, &judge, &tables.lengths)?;
        layouts(report, example, &judge, &tables.layouts)?;
    }
    cold_factors(report);
    longest(report)
}

struct Tables {
    conditions: Table,
    lengths: Table,
    layouts: Table,
}

fn read(example: &str) -> Outcome<Plant> {
    let path = root().join("../examples").join(example);
    let read =
        read_plant(Path::new(&path)).map_err(|faults| faults_text(faults.into_iter().map(|located| located.fault)))?;
    Ok(read.plant)
}

fn conditions(report: &mut Report, example: &str, c: &Conditions, table: &Table) -> Outcome {
    let at = table.texts("plant")?.iter().position(|name| *name == example).ok_or("not in the table")?;
    let ModuleVolts {
        cold_open_v,
        cold_max_power_v,
        hot_open_v,
        hot_max_power_v,
    } = c.module;
    let mut worst = Worst::new(Allowed::relative(1e-6));
    for (column, ours) in [
        ("coldest_air_c", c.coldest.air_c),
        ("hottest_air_c", c.hottest.air_c),
        ("noon_cell_c", c.noon_cell_c),
        ("cold_open_v", cold_open_v),
        ("cold_max_power_v", cold_max_power_v),
        ("hot_open_v", hot_open_v),
        ("hot_max_power_v", hot_max_power_v),
    ] {
        worst.see(column, ours, table.numbers(column)?[at]);
    }
    report.push(worst.row(
        &format!("strings: extremes and a module's voltages, {example}"),
        PROGRAM,
    ));
    Ok(())
}

/// Name of a device as the second program writes it.
fn device(plant: &Plant, device: Device) -> String {
    match device {
        Device::Module => "module".to_owned(),
        Device::Inverter(i) => plant.feeders[i].name.clone(),
        Device::Drive(s) => plant.sets[s].name.clone(),
    }
}

fn lengths(report: &mut Report, example: &str, judge: &Judge<'_>, table: &Table) -> Outcome {
    let plant = judge.plant();
    let subs = SubArray::all(judge.array());
    let all: Vec<(String, Vec<Length>)> =
        subs.iter().map(|sub| (sub.name(plant), search(judge, sub).lengths)).collect();
    let (plants, names) = (table.texts("plant")?, table.texts("sub_array")?);
    let (series, rules, devices) = (table.texts("series")?, table.texts("rule")?, table.texts("device")?);
    let (values, keeps) = (table.numbers("value")?, table.texts("keeps")?);
    let mut volts = Worst::new(Allowed::relative(1e-6));
    let mut hertz = Worst::new(Allowed::absolute(0.01, "Hz"));
    let (mut seen, mut differ) = (0, Vec::new());
    for i in (0..plants.len()).filter(|i| plants[*i] == example) {
        let measures = all.iter().filter(|(name, _)| name == names[i]).flat_map(|(_, lengths)| lengths);
        let at = format!("{} of {} modules, {}", rules[i], series[i], devices[i]);
        let found = measures
            .filter(|length| length.series.to_string() == series[i])
            .flat_map(|length| &length.measures)
            .find(|m| m.rule.id() == rules[i] && device(plant, m.device) == devices[i]);
        let Some(m) = found else {
            differ.push(format!("{at}: not here"));
            continue;
        };
        seen += 1;
        let worst = if m.rule == Rule::PumpSpeed {
            &mut hertz
        } else {
            &mut volts
        };
        worst.see(&at, m.value, values[i]);
        if m.breaks == (keeps[i] == "1") {
            differ.push(at);
        }
    }
    let ours: usize = all.iter().flat_map(|(_, lengths)| lengths).map(|length| length.measures.len()).sum();
    if !differ.is_empty() || ours != seen {
        return Err(format!(
            "{example}: {ours} values here, {seen} in the second program; differences: {}",
            differ.join("; ")
        )
        .into());
    }
    report.push(volts.row(&format!("strings: voltages of every length, {example}"), PROGRAM));
    report.push(hertz.row(
        &format!("strings: speed from all strings of a length, {example}"),
        PROGRAM,
    ));
    Ok(())
}

/// One line of the second program's layouts.
struct Line<'t> {
    sub_array: &'t str,
    series: u32,
    per_input: u32,
    shares: &'t str,
    suits: bool,
    broken: &'t str,
    hz: &'t str,
    poles: u32,
    idle_kw: f64,
    fuse_a: &'t str,
}

fn lines<'t>(example: &str, table: &'t Table) -> Outcome<Vec<Line<'t>>> {
    let (plants, names) = (table.texts("plant")?, table.texts("sub_array")?);
    let (series, per_input) = (table.texts("series")?, table.texts("per_input")?);
    let (shares, suits, broken) = (table.texts("shares")?, table.texts("suits")?, table.texts("broken")?);
    let (hz, poles) = (table.texts("hz")?, table.texts("poles")?);
    let (idle_kw, fuse_a) = (table.numbers("idle_kw")?, table.texts("fuse_a")?);
    let of_plant = (0..plants.len()).filter(|i| plants[*i] == example);
    of_plant
        .map(|i| {
            Ok(Line {
                sub_array: names[i],
                series: series[i].parse()?,
                per_input: per_input[i].parse()?,
                shares: shares[i],
                suits: suits[i] == "1",
                broken: broken[i],
                hz: hz[i],
                poles: poles[i].parse()?,
                idle_kw: idle_kw[i],
                fuse_a: fuse_a[i],
            })
        })
        .collect()
}

/// Layouts as the second program writes them: `east>upper weir:4;idle:2|west>…`.
fn shares_text(plant: &Plant, layout: &Layout) -> String {
    let planes = plant.array.as_ref().map(|array| array.planes.as_slice()).unwrap_or_default();
    let field = |shares: &daylift_electrics::Shares| {
        let to = shares.to_drives.iter().map(|(set, k)| format!("{}:{k}", plant.sets[*set].name));
        let parts: Vec<String> = to.chain([format!("idle:{}", shares.idle)]).collect();
        format!("{}>{}", planes[shares.plane].name, parts.join(";"))
    };
    layout.shares.iter().map(field).collect::<Vec<_>>().join("|")
}

/// A line's strings as groups of a plan.
fn groups(judge: &Judge<'_>, sub: &SubArray, line: &Line<'_>) -> Outcome<Vec<PlannedGroup>> {
    let any: &StringGroup = &judge.array().groups.raw[0].strings;
    let mut out = Vec::new();
    for (field, text) in sub.fields.iter().zip(line.shares.split('|')) {
        let (_, parts) = text.split_once('>').ok_or("no plane")?;
        for part in parts.split(';') {
            let (name, count) = part.rsplit_once(':').ok_or("no count")?;
            let strings: u32 = count.parse()?;
            if strings > 0 {
                out.push(PlannedGroup {
                    name: part.to_owned(),
                    plane: field.plane,
                    inverter: field.inverter,
                    set: judge.plant().sets.position(|set| set.name == name),
                    strings: any.in_strings(line.series, strings).map_err(faults_text)?,
                    per_input: line.per_input,
                });
            }
        }
    }
    Ok(out)
}

/// The rules that forbid, except for a drive without strings.
fn broken(judged: &Judged) -> BTreeSet<&'static str> {
    judged.measures.iter().filter(|m| m.forbids()).map(|m| m.rule.id()).collect()
}

fn layouts(report: &mut Report, example: &str, judge: &Judge<'_>, table: &Table) -> Outcome {
    let plant = judge.plant();
    let lines = lines(example, table)?;
    let mut hertz = Worst::new(Allowed::absolute(0.01, "Hz"));
    let mut idle = Worst::new(Allowed::absolute(1e-6, "kW"));
    let mut suiting = 0_usize;
    let mut theirs_suiting = 0_usize;
    let mut differ = Vec::new();
    for sub in SubArray::all(judge.array()) {
        let name = sub.name(plant);
        let found = search(judge, &sub);
        suiting += found.layouts.len();
        let ours: BTreeSet<_> = found.layouts.iter().map(|l| (l.series, l.per_input, shares_text(plant, l))).collect();
        for line in lines.iter().filter(|line| line.sub_array == name) {
            let at = format!(
                "{name}, {} in series, {} on an input, {}",
                line.series, line.per_input, line.shares
            );
            theirs_suiting += usize::from(line.suits);
            if ours.contains(&(line.series, line.per_input, line.shares.to_owned())) != line.suits {
                differ.push(format!("{at}: suits"));
            }
            let judged = judge.judge(&groups(judge, &sub, line)?);
            let mut rules = broken(&judged);
            if sub.sets.iter().any(|set| judged.drives.iter().all(|drive| drive.set != *set)) {
                rules.insert(Rule::PumpSpeed.id());
            }
            if rules != line.broken.split_whitespace().collect() {
                differ.push(format!("{at}: {rules:?}, second program {}", line.broken));
            }
            let poles: u32 = judged.drives.iter().map(|drive| drive.poles).sum();
            if poles != line.poles {
                differ.push(format!("{at}: {poles} poles, second program {}", line.poles));
            }
            idle.see(&at, judged.idle_w / 1e3, line.idle_kw);
            for drive in &judged.drives {
                let of_drive = |text: &str| -> Option<String> {
                    let (_, value) = text
                        .split(';')
                        .filter_map(|part| part.rsplit_once(':'))
                        .find(|(set, _)| *set == plant.sets[drive.set].name)?;
                    Some(value.to_owned())
                };
                hertz.see(&at, drive.noon.hz, of_drive(line.hz).ok_or("no frequency")?.parse()?);
                let fuse = match (drive.fuse.needed, drive.fuse.rating_a) {
                    (false, _) => "0".to_owned(),
                    (true, None) => "-".to_owned(),
                    (true, Some(rating_a)) => format!("{rating_a}"),
                };
                if of_drive(line.fuse_a) != Some(fuse) {
                    differ.push(format!("{at}: fuse"));
                }
            }
        }
    }
    if !differ.is_empty() {
        return Err(format!("{example}: {}", differ.join("; ")).into());
    }
    #[expect(clippy::cast_precision_loss, reason = "a few hundred layouts")]
    let (ours, theirs) = (suiting as f64, theirs_suiting as f64);
    report.push(Row::new(
        &format!("strings: suitable layouts, of {} judged, {example}", lines.len()),
        PROGRAM,
        ours,
        theirs,
        Allowed::absolute(0.0, ""),
    ));
    report.push(hertz.row(
        &format!("strings: speed at a hot noon in every layout, {example}"),
        PROGRAM,
    ));
    report.push(idle.row(&format!("strings: idle power, {example}"), PROGRAM));
    Ok(())
}

/// Correction of the open-circuit voltage by the coldest temperature of a range \[°C\], for crystalline silicon without a
/// temperature coefficient: NEC table 690.7(A), from memory.
const CODE_FACTORS: [(f64, f64); 13] = [
    (20.0, 1.02),
    (15.0, 1.04),
    (10.0, 1.06),
    (5.0, 1.08),
    (0.0, 1.10),
    (-5.0, 1.12),
    (-10.0, 1.14),
    (-15.0, 1.16),
    (-20.0, 1.18),
    (-25.0, 1.20),
    (-30.0, 1.21),
    (-35.0, 1.23),
    (-40.0, 1.25),
];

/// The table is meant to be safe for every crystalline module. The factor by a module's own coefficient is below it, and
/// close to it for the steepest coefficients (−0.35 %/K).
fn cold_factors(report: &mut Report) {
    for (per_k, far) in [(-0.0027, 0.075), (-0.0035, 0.03)] {
        let mut most = (0.0_f64, 0.0, 0.0);
        let mut above = 0;
        for (cold_c, factor) in CODE_FACTORS {
            let ours = 1.0 + per_k * (cold_c - 25.0);
            above += usize::from(ours > factor);
            if factor - ours > most.0 {
                most = (factor - ours, ours, factor);
            }
        }
        let mut row = Row::new(
            &format!(
                "strings: cold open-circuit factor at {:.2} %/K below the code's",
                per_k * 100.0
            ),
            "NEC table 690.7(A), from memory",
            most.1,
            most.2,
            Allowed::absolute(far, ""),
        );
        row.ok &= above == 0;
        report.push(row);
    }
}

/// Longest strings of a module of 49.5 V, −0.27 %/K, at −10 °C: 11 under 600 V, 18 under 1000 V; 9.45 % more than at 25 °C.
fn longest(report: &mut Report) -> Outcome {
    let module = daylift_array::Module::new(daylift_array::ModuleSheet {
        name: "49.5 V".to_owned(),
        short_circuit_a: 11.0,
        open_circuit_v: 49.5,
        max_power_a: 10.4,
        max_power_v: 41.4,
        short_circuit_a_per_k: 0.005,
        open_circuit_v_per_k: -0.0027 * 49.5,
        cells: 72,
    })
    .map_err(faults_text)?;
    let cold_v = ModuleVolts::of(&module, -10.0, 1000.0, 65.0).cold_open_v;
    let source = "coefficient method, computed from the formula";
    report.push(Row::new(
        "strings: 49.5 V at −10 °C, −0.27 %/K",
        source,
        cold_v,
        54.18,
        Allowed::absolute(0.005, "V"),
    ));
    for (limit_v, modules) in [(600.0, 11.0), (1000.0, 18.0)] {
        report.push(Row::new(
            &format!("strings: longest under {limit_v} V"),
            source,
            (limit_v / cold_v).floor(),
            modules,
            Allowed::absolute(0.0, ""),
        ));
    }
    Ok(())
}
