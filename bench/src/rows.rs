//! The rows of the table, from what was measured.

use crate::figures::Figures;
use crate::measure::growth::{AtStep, Growth, exact};
use crate::measure::sun_to_dc::SITES;

const MEGABYTE: f64 = 1e6;
const NANOSECOND: f64 = 1e-9;

/// A row.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Row {
    /// Its name in the committed file; a row without one is not checked.
    pub(crate) key: Option<String>,
    /// Letter of the measure; empty in a row that belongs to the row above.
    pub(crate) letter: &'static str,
    /// What is measured.
    pub(crate) measure: String,
    /// Our figure.
    pub(crate) ours: String,
    /// Name and figure of the reference.
    pub(crate) reference: String,
    /// Reference time ÷ our time; more is better. `None` when it was not measured.
    pub(crate) ratio: Option<f64>,
    /// Whether it uses all cores. Then it is checked only on at least as many cores as the committed run had.
    pub(crate) all_cores: bool,
    /// The aim.
    pub(crate) aim: Option<Aim>,
}

/// An aim, with the figure that is compared with it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Aim {
    /// The ratio should be this or more.
    Ratio(f64),
    /// Our figure should be no more than this, both in a unit.
    AtMost {
        /// Our figure.
        ours: f64,
        /// Maximum allowed.
        most: f64,
        /// Unit.
        unit: &'static str,
    },
    /// At least this many per second.
    PerSecond {
        /// Ours.
        ours: f64,
        /// Minimum allowed.
        least: f64,
    },
    /// The cost should grow with the count to this power at most.
    Power {
        /// The measured power.
        ours: f64,
        /// Maximum allowed.
        most: f64,
    },
}

impl Row {
    fn new(letter: &'static str, key: &str, measure: impl Into<String>) -> Self {
        Self {
            key: Some(key.to_owned()),
            letter,
            measure: measure.into(),
            ours: "–".to_owned(),
            reference: "–".to_owned(),
            ratio: None,
            all_cores: false,
            aim: None,
        }
    }

    fn figures(mut self, ours: impl Into<String>, reference: impl Into<String>, ratio: f64) -> Self {
        self.ours = ours.into();
        self.reference = reference.into();
        self.ratio = Some(ratio);
        self
    }

    fn aim(mut self, aim: Aim) -> Self {
        self.aim = Some(aim);
        self
    }

    fn on_all_cores(mut self) -> Self {
        self.all_cores = true;
        self
    }

    /// The aim in words.
    pub(crate) fn aim_text(&self) -> String {
        match self.aim {
            None => "–".to_owned(),
            Some(Aim::Ratio(least)) => format!("≥ {least}×"),
            Some(Aim::AtMost { most, unit, .. }) => format!("≤ {most} {unit}"),
            Some(Aim::PerSecond { least, .. }) => format!("≥ {least} /s"),
            Some(Aim::Power { most, .. }) => format!("≤ n^{most}"),
        }
    }

    /// Whether the aim is met; `None` without one or without a figure.
    pub(crate) fn met(&self) -> Option<bool> {
        match (self.aim?, self.ratio?) {
            (Aim::Ratio(least), ratio) => Some(ratio >= least),
            (Aim::PerSecond { ours, least }, _) => Some(ours >= least),
            (Aim::AtMost { ours, most, .. } | Aim::Power { ours, most }, _) => Some(ours <= most),
        }
    }
}

/// A number as text: three significant figures, and always all digits before the decimal point.
pub(crate) fn shown(value: f64) -> String {
    let decimals = match value.abs() {
        v if v >= 100.0 => 0,
        v if v >= 10.0 => 1,
        v if v >= 1.0 => 2,
        _ => 3,
    };
    format!("{value:.decimals$}")
}

/// All rows in order.
pub(crate) fn rows(of: &Figures) -> Vec<Row> {
    let mut rows = Vec::new();
    rows.extend(SITES.into_iter().flat_map(|site| sun_to_dc(of, site)));
    rows.push(year_loop(of));
    rows.extend(run_cold(of));
    rows.push(duty(of));
    rows.push(plant_years(of));
    rows.push(compare(of));
    rows.extend(growth(&of.growth).into_iter().flatten());
    rows.push(change(of));
    rows.extend(synthetic(of));
    rows
}

fn sun_to_dc(of: &Figures, site: &str) -> [Row; 2] {
    let (ours_s, whole_s, by_day_s) = (of.sun_to_dc_s(site), of.chain_s(site), of.chain_by_day_s(site));
    let ours = format!("{} s", shown(ours_s));
    let whole = Row::new("a", &format!("sun-to-dc-{site}"), format!("sun → DC, 1 min, {site}"))
        .figures(&ours, format!("pvlib {} s", shown(whole_s)), whole_s / ours_s)
        .aim(Aim::Ratio(40.0));
    let by_day = Row {
        key: None,
        ..Row::new("", "", "  pvlib's diode by day only").figures(
            ours,
            format!("pvlib {} s", shown(by_day_s)),
            by_day_s / ours_s,
        )
    };
    [whole, by_day]
}

fn year_loop(of: &Figures) -> Row {
    let (ours_ns, unit_ns) = (of.year_step_s() / NANOSECOND, of.unit_step_s() / NANOSECOND);
    Row::new("b", "year-loop", "year loop of dual-mode, 1 min")
        .figures(
            format!("{} ns/step", shown(ours_ns)),
            format!("pvlib {} ns/step", shown(unit_ns)),
            unit_ns / ours_ns,
        )
        .aim(Aim::AtMost {
            ours: ours_ns,
            most: 15.0,
            unit: "ns",
        })
}

fn run_cold(of: &Figures) -> [Row; 2] {
    let time = Row::new("c", "run-cold", "run, 1 min, cold, one core")
        .figures(
            format!("{} s", shown(of.run_s())),
            format!("pvlib {} s", shown(of.unit_s())),
            of.unit_s() / of.run_s(),
        )
        .aim(Aim::AtMost {
            ours: of.run_s(),
            most: 0.15,
            unit: "s",
        });
    let (ours_mb, theirs_mb) = (of.run_bytes() / MEGABYTE, of.unit_bytes() / MEGABYTE);
    let memory = Row::new("", "run-memory", "  its peak memory")
        .figures(
            format!("{} MB", shown(ours_mb)),
            format!("pvlib {} MB", shown(theirs_mb)),
            theirs_mb / ours_mb,
        )
        .aim(Aim::AtMost {
            ours: ours_mb,
            most: 300.0,
            unit: "MB",
        });
    [time, memory]
}

fn duty(of: &Figures) -> Row {
    let (ours_s, theirs_s) = (of.solve_s(), of.epanet_solve_s());
    let per_second = |solve_s: f64| format!("{} M/s", shown(1e-6 / solve_s));
    Row::new("d", "duty", "duty points solved exactly")
        .figures(
            per_second(ours_s),
            format!("EPANET {}", per_second(theirs_s)),
            theirs_s / ours_s,
        )
        .aim(Aim::Ratio(20.0))
}

/// Reference: pvlib's chain with the same number of steps in a year.
fn plant_years(of: &Figures) -> Row {
    const STEPS_OF_TEN_MINUTES: f64 = 52_560.0;
    let (ours_s, theirs_s) = (
        of.plant_years.seconds / f64::from(of.plant_years.count),
        of.unit_step_s() * STEPS_OF_TEN_MINUTES,
    );
    Row::new("e", "plant-years", "plant-years, 10 min, warm")
        .figures(
            format!("{} /s", shown(1.0 / ours_s)),
            format!("pvlib {} /s", shown(1.0 / theirs_s)),
            theirs_s / ours_s,
        )
        .on_all_cores()
        .aim(Aim::PerSecond {
            ours: 1.0 / ours_s,
            least: 2000.0,
        })
}

fn compare(of: &Figures) -> Row {
    Row::new("f", "compare-cold", "compare, cold, all cores")
        .figures(
            format!("{} s", shown(of.compare_s())),
            format!("pvlib {} s", shown(of.unit_s())),
            of.unit_s() / of.compare_s(),
        )
        .on_all_cores()
        .aim(Aim::AtMost {
            ours: of.compare_s(),
            most: 0.3,
            unit: "s",
        })
}

/// The slider whose answers take longest.
fn change(of: &Figures) -> Row {
    let p95_s = of.changes.iter().map(|slider| slider.p95_s).fold(f64::NAN, f64::max);
    Row::new("h", "change-on-page", "a change on the page, p95")
        .figures(
            format!("{} ms", shown(p95_s * 1e3)),
            format!("pvlib {} s", shown(of.unit_s())),
            of.unit_s() / p95_s,
        )
        .on_all_cores()
        .aim(Aim::AtMost {
            ours: p95_s * 1e3,
            most: 100.0,
            unit: "ms",
        })
}

fn synthetic(of: &Figures) -> [Row; 2] {
    let row = |letter, key, measure: &str, ours_s: f64| {
        Row::new(letter, key, measure).figures(
            format!("{} ms", shown(ours_s * 1e3)),
            format!("pvlib {} s", shown(of.unit_s())),
            of.unit_s() / ours_s,
        )
    };
    let ours_s = of.synthetic_s();
    let year = row("i", "synthetic-year", "a synthetic year of hours", ours_s).aim(Aim::AtMost {
        ours: ours_s * 1e3,
        most: 5.0,
        unit: "ms",
    });
    [year, row("", "sun-table", "  the sun's table alone", of.sun_table_s())]
}

/// Cost of a step in a year of few steps and of many steps, and cost of a design alone and in a series.
fn growth(of: &Growth) -> Option<[Row; 2]> {
    let ([.., few, many], [alone, .., last]) = (of.steps.as_slice(), of.designs.as_slice()) else {
        return None;
    };
    let (few_s, many_s) = (few.seconds() / exact(few.steps), many.seconds() / exact(many.steps));
    let step = Row::new("g", "step-of-many", "a step of 1 min vs 10 min")
        .figures(
            format!("{} ns", shown(many_s / NANOSECOND)),
            format!("ours {} ns", shown(few_s / NANOSECOND)),
            few_s / many_s,
        )
        .aim(proportional(of.power_of_steps(AtStep::seconds)));
    let each_s = last.seconds / f64::from(last.count);
    let design = Row::new("g", "design-of-many", format!("a design of {} vs one", last.count))
        .figures(
            format!("{} ms", shown(each_s * 1e3)),
            format!("ours {} ms", shown(alone.seconds * 1e3)),
            alone.seconds / each_s,
        )
        .aim(proportional(of.power_of_designs()));
    Some([step, design])
}

/// The aim that cost is proportional to the count, with a margin for scatter in timing.
fn proportional(power: Option<f64>) -> Aim {
    Aim::Power {
        ours: power.unwrap_or(f64::NAN),
        most: 1.05,
    }
}
