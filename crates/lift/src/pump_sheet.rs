//! A pump's datasheet, its checks, and the curves fitted to it.

use daylift_units::constants::GRAVITY_M_S2;
use daylift_units::fields::pump as fields;
use daylift_units::fit::least_squares;
use daylift_units::{Fault, Unit};

use crate::check::{Faults, print};
use crate::pump::{GREATEST_EFFICIENCY, Pump, PumpFitErrors};
use crate::water::Water;

/// If no efficiency exceeds this, the values were probably typed as fractions instead of per cent.
const FRACTION_LOOKALIKE: f64 = 0.05;
/// Minimum number of points with flow: the number of coefficients of the efficiency curve.
const LEAST_POINTS: usize = 3;

/// Points of a pump's datasheet at rated speed, in order of rising flow.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct PumpSheet {
    /// Name.
    pub name: String,
    /// Flows \[m³/s\].
    pub flow_m3_s: Vec<f64>,
    /// Heads \[m\].
    pub head_m: Vec<f64>,
    /// Efficiencies of the pump alone, fractions; the value at zero flow is not used.
    pub efficiency: Option<Vec<f64>>,
    /// Shaft powers \[W\], instead of efficiencies; the value at zero flow is not used.
    pub shaft_power_w: Option<Vec<f64>>,
}

impl Pump {
    /// A pump from its datasheet, fitted by least squares: H = H0 + c·Q² over all points, and η = e1·Q + e2·Q² + e3·Q³
    /// over the points with flow. Shaft powers are first converted to η = ρ·g·Q·H/P.
    ///
    /// # Errors
    /// Faults for:
    /// - lists of different length, or fewer than three points with flow;
    /// - flows that do not rise, or heads that do not fall;
    /// - efficiency and shaft power both given, or neither;
    /// - points too close together to fit a curve;
    /// - a fitted efficiency of 0 or less, or above 92 %, anywhere within the data.
    pub fn new(sheet: PumpSheet, water: &Water) -> Result<Self, Vec<Fault>> {
        let mut faults = Faults::default();
        check_flows(&sheet, &mut faults);
        check_heads(&sheet, &mut faults);
        check_efficiency_or_power(&sheet, &mut faults);
        if !faults.is_empty() {
            return Err(faults.into_vec());
        }
        let (Some(head), Some(efficiency)) = (fit_head(&sheet), fit_efficiency(&sheet, water)) else {
            return Err(vec![Fault::new(
                "flow_m3_h",
                "flows of the pump's datasheet",
                format!("{} points", sheet.flow_m3_s.len()),
                "points far enough apart to fit a curve",
                "use points spread over the whole curve of the datasheet",
            )]);
        };
        let [shut_off_head_m, slope] = head;
        let mut pump = Self {
            density_kg_m3: water.density_kg_m3(),
            greatest_flow_m3_s: sheet.flow_m3_s.last().copied().unwrap_or(0.0),
            name: String::new(),
            shut_off_head_m,
            head_coefficient_s2_m5: slope,
            efficiency_coefficients: efficiency,
            least_efficiency: 0.0,
            fit_errors: PumpFitErrors::default(),
        };
        check_fit(&sheet, &pump)?;
        pump.least_efficiency = pump.efficiency(pump.greatest_flow_m3_s, 1.0).min(0.05);
        pump.fit_errors = errors(&pump, &sheet, water);
        pump.name = sheet.name;
        Ok(pump)
    }
}

fn check_flows(sheet: &PumpSheet, faults: &mut Faults) {
    let field = &fields::FLOW;
    for &flow_m3_s in &sheet.flow_m3_s {
        faults.field(field, flow_m3_s);
    }
    for pair in sheet.flow_m3_s.windows(2) {
        if pair[1] <= pair[0] {
            faults.push(Fault::new(
                field.key,
                field.quantity,
                format!("{} after {}", field.print_si(pair[1]), field.print_si(pair[0])),
                "flows that rise from point to point",
                "give the points in the order of rising flow, each once",
            ));
        }
    }
    let with_flow = sheet.flow_m3_s.iter().filter(|&&q| q > 0.0).count();
    if with_flow < LEAST_POINTS {
        faults.push(Fault::new(
            field.key,
            "points of the pump's datasheet with flow",
            with_flow.to_string(),
            format!("at least {LEAST_POINTS}, because the efficiency curve has that many coefficients"),
            "read more points off the datasheet's curves",
        ));
    }
}

fn check_heads(sheet: &PumpSheet, faults: &mut Faults) {
    let field = &fields::HEAD;
    check_length(sheet, faults, field.key, sheet.head_m.len());
    for &head_m in &sheet.head_m {
        faults.field(field, head_m);
    }
    for pair in sheet.head_m.windows(2) {
        if pair[1] >= pair[0] {
            faults.push(Fault::new(
                field.key,
                field.quantity,
                format!("{} after {}", field.print_si(pair[1]), field.print_si(pair[0])),
                "heads that fall as the flow rises: with a rising curve the speed does not follow from the head",
                "give the points in the order of rising flow; leave out the part of the curve that rises",
            ));
        }
    }
}

fn check_efficiency_or_power(sheet: &PumpSheet, faults: &mut Faults) {
    let (field, values) = match (&sheet.efficiency, &sheet.shaft_power_w) {
        (Some(values), None) => (&fields::EFFICIENCY, values),
        (None, Some(values)) => (&fields::SHAFT_POWER, values),
        (given, _) => {
            faults.push(Fault::new(
                "efficiency_pct",
                "efficiency or shaft power of the pump's datasheet",
                if given.is_some() { "both" } else { "neither" },
                "one of the two",
                "give `efficiency_pct` or `shaft_power_kw`, not both: one follows from the other",
            ));
            return;
        }
    };
    check_length(sheet, faults, field.key, values.len());
    let fractions = (sheet.efficiency.as_deref())
        .and_then(|values| fields::EFFICIENCY.given_as_fractions(values, FRACTION_LOOKALIKE));
    if let Some(fault) = fractions {
        faults.push(fault);
        return;
    }
    for (&flow_m3_s, &value) in sheet.flow_m3_s.iter().zip(values) {
        if flow_m3_s <= 0.0 {
            continue;
        }
        faults.field(field, value);
        if value == 0.0 {
            faults.push(Fault::new(
                field.key,
                field.quantity,
                format!("{} at {}", field.print_si(value), fields::FLOW.print_si(flow_m3_s)),
                "above 0 wherever water flows",
                "read the value off the datasheet's curve, or leave the point out",
            ));
        }
    }
}

fn check_length(sheet: &PumpSheet, faults: &mut Faults, key: &str, length: usize) {
    let flows = sheet.flow_m3_s.len();
    if length != flows {
        faults.push(Fault::new(
            key,
            "number of values in the pump's datasheet",
            length.to_string(),
            format!("{flows}, as many as in `flow_m3_h`"),
            "give one value for each flow",
        ));
    }
}

fn fit_head(sheet: &PumpSheet) -> Option<[f64; 2]> {
    let rows: Vec<[f64; 2]> = sheet.flow_m3_s.iter().map(|q| [1.0, q * q]).collect();
    least_squares(&rows, &sheet.head_m).filter(|fit| fit[0] > 0.0 && fit[1] < 0.0)
}

fn fit_efficiency(sheet: &PumpSheet, water: &Water) -> Option<[f64; 3]> {
    let points = efficiencies(sheet, water);
    let rows: Vec<[f64; 3]> = points.iter().map(|(q, _)| [*q, q * q, q * q * q]).collect();
    let values: Vec<f64> = points.iter().map(|(_, eta)| *eta).collect();
    least_squares(&rows, &values)
}

/// Flow and efficiency of the points with flow.
fn efficiencies(sheet: &PumpSheet, water: &Water) -> Vec<(f64, f64)> {
    let weight = water.density_kg_m3() * GRAVITY_M_S2;
    let flows = sheet.flow_m3_s.iter().copied();
    let points: Vec<(f64, f64)> = match (&sheet.efficiency, &sheet.shaft_power_w) {
        (Some(efficiency), _) => flows.zip(efficiency.iter().copied()).collect(),
        (None, Some(power_w)) => {
            flows.zip(&sheet.head_m).zip(power_w).map(|((q, h), p)| (q, weight * q * h / p)).collect()
        }
        (None, None) => Vec::new(),
    };
    points.into_iter().filter(|(q, _)| *q > 0.0).collect()
}

/// Refuses an implausible fitted efficiency anywhere from zero flow to the last point.
fn check_fit(sheet: &PumpSheet, pump: &Pump) -> Result<(), Vec<Fault>> {
    let [e1, ..] = pump.efficiency_coefficients;
    let samples = 200_u32;
    let at = |i: u32| pump.greatest_flow_m3_s * f64::from(i) / f64::from(samples);
    let fitted = |i: &u32| pump.fitted_efficiency(at(*i));
    let field = if sheet.efficiency.is_some() {
        fields::EFFICIENCY
    } else {
        fields::SHAFT_POWER
    };
    let worst = (1..=samples)
        .find(|i| fitted(i) <= 0.0 || fitted(i) > GREATEST_EFFICIENCY)
        .or(if e1 > 0.0 { None } else { Some(0) });
    let Some(i) = worst else { return Ok(()) };
    let given = format!("{:.1}% at {}", 100.0 * fitted(&i), print(at(i), Unit::M3_PER_H));
    Err(vec![Fault::new(
        field.key,
        "efficiency of the pump as fitted to its datasheet",
        given,
        format!(
            "above 0 and up to {} from no flow to the last point, as pumps have",
            print(GREATEST_EFFICIENCY, Unit::PERCENT)
        ),
        "compare flow, head and efficiency or shaft power with the datasheet and its units; add points at low flow",
    )])
}

fn errors(pump: &Pump, sheet: &PumpSheet, water: &Water) -> PumpFitErrors {
    let head = sheet.flow_m3_s.iter().zip(&sheet.head_m);
    let head_m = greatest(head.map(|(&q, &h)| pump.head_m(q, 1.0) - h));
    let points = efficiencies(sheet, water);
    PumpFitErrors {
        head_m,
        head_fraction: head_m / pump.shut_off_head_m(),
        efficiency: greatest(points.iter().map(|&(q, eta)| pump.fitted_efficiency(q) - eta)),
    }
}

fn greatest(differences: impl Iterator<Item = f64>) -> f64 {
    differences.map(f64::abs).fold(0.0, f64::max)
}
