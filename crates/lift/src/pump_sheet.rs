//! A pump's datasheet, its checks, and the curves fitted to it.

use daylift_units::constants::GRAVITY_M_S2;
use daylift_units::fields::pump as fields;
use daylift_units::fit::least_squares;
use daylift_units::misfit::FOLLOW_POINTS;
use daylift_units::{CurveForm, Fault, Judged, Misfit, Unit};

use crate::check::{Faults, print};
use crate::pump::{EfficiencyCurve, GREATEST_EFFICIENCY, HeadCurve, Pump, PumpFitErrors};
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
    /// How the curves follow the points.
    pub curve: CurveForm,
}

impl Pump {
    /// A pump from its datasheet. Shaft powers are first converted to η = ρ·g·Q·H/P.
    ///
    /// - *Fitted* by least squares: H = H0 + c·Q² over all points, and η = e1·Q + e2·Q² + e3·Q³ over the points with flow.
    ///   Where the heads first rise: H = H0 + b·Q + c·Q².
    /// - *Through the points*: monotone curves ([`daylift_units::Pchip`]) through the heads, and through (0, 0) and the
    ///   efficiencies. Outside the points both go on in straight lines.
    ///
    /// # Errors
    /// Faults for:
    /// - lists of different length, or fewer than three points with flow;
    /// - flows that do not rise;
    /// - heads that do not fall, except that fitted heads may first rise, as long as the fitted maximum lies among the
    ///   points;
    /// - efficiency and shaft power both given, or neither;
    /// - points too close together to fit a curve;
    /// - an efficiency of 0 or less, or above 92 %, anywhere within the data;
    /// - fitted heads that differ from a point by more than 8 % of the shut-off head, or efficiencies by more than 8 % of
    ///   the one given.
    pub fn new(sheet: PumpSheet, water: &Water) -> Result<Self, Vec<Fault>> {
        let mut faults = Faults::default();
        check_flows(&sheet, &mut faults);
        check_heads(&sheet, &mut faults);
        check_efficiency_or_power(&sheet, &mut faults);
        if !faults.is_empty() {
            return Err(faults.into_vec());
        }
        let points = efficiencies(&sheet, water);
        let (Some(head), Some(efficiency)) = (head_curve(&sheet), efficiency_curve(&sheet, &points)) else {
            return Err(vec![Fault::new(
                "flow_m3_h",
                "flows of the pump's datasheet",
                format!("{} points", sheet.flow_m3_s.len()),
                "points far enough apart to fit a curve",
                "use points spread over the whole curve of the datasheet",
            )]);
        };
        check_hump(&sheet, &head)?;
        let mut pump = Self {
            density_kg_m3: water.density_kg_m3(),
            greatest_flow_m3_s: sheet.flow_m3_s.last().copied().unwrap_or(0.0),
            name: String::new(),
            head,
            efficiency,
            least_efficiency: 0.0,
            fit_errors: PumpFitErrors::default(),
        };
        check_fit(&sheet, &pump)?;
        pump.least_efficiency = pump.efficiency(pump.greatest_flow_m3_s, 1.0).min(0.05);
        if sheet.curve == CurveForm::Fitted {
            pump.fit_errors = errors(&pump, &sheet, &points);
            check_misfit(&sheet, &pump)?;
        }
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
    let top = sheet.top();
    if top > 0 && top + 1 == sheet.head_m.len() {
        let given = format!("{} at the last point, the highest", field.print_si(sheet.head_m[top]));
        let remedy = "give the points in the order of rising flow; add points beyond the maximum of the curve";
        faults.push(Fault::new(field.key, field.quantity, given, falling(sheet), remedy));
        return;
    }
    for (i, pair) in sheet.head_m.windows(2).enumerate() {
        let wrong = if i < top { pair[1] < pair[0] } else { pair[1] >= pair[0] };
        if wrong || (i < top && sheet.curve == CurveForm::ThroughPoints) {
            let (allowed, remedy) = (falling(sheet), falling_remedy(sheet));
            let given = format!("{} after {}", field.print_si(pair[1]), field.print_si(pair[0]));
            faults.push(Fault::new(field.key, field.quantity, given, allowed, remedy));
        }
    }
}

impl PumpSheet {
    /// The last of the highest heads: the first point, unless the heads first rise.
    fn top(&self) -> usize {
        let highest = self.head_m.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        self.head_m.iter().rposition(|&head_m| head_m >= highest).unwrap_or(0)
    }
}

fn falling(sheet: &PumpSheet) -> &'static str {
    match sheet.curve {
        CurveForm::Fitted => {
            "heads that fall as the flow rises; they may rise to a maximum first, and fall from there on"
        }
        CurveForm::ThroughPoints => "heads that fall from point to point: on a curve through points, no part may rise",
    }
}

fn falling_remedy(sheet: &PumpSheet) -> &'static str {
    match sheet.curve {
        CurveForm::Fitted => "give the points in the order of rising flow, and compare them with the datasheet",
        CurveForm::ThroughPoints => "leave out the part of the curve that rises, or remove `curve` from this file",
    }
}

/// A fault where heads first rise, but the fitted curve has no maximum among the points.
fn check_hump(sheet: &PumpSheet, head: &HeadCurve) -> Result<(), Vec<Fault>> {
    let &HeadCurve::Humped {
        linear_s_m2,
        square_s2_m5,
        ..
    } = head
    else {
        return Ok(());
    };
    let flow_m3_s = |flow: Option<&f64>| flow.copied().unwrap_or(0.0);
    let (first, last) = (flow_m3_s(sheet.flow_m3_s.first()), flow_m3_s(sheet.flow_m3_s.last()));
    let top_m3_s = -linear_s_m2 / (2.0 * square_s2_m5);
    let given = if square_s2_m5 >= 0.0 {
        "no maximum".to_owned()
    } else if linear_s_m2 <= 0.0 {
        "a maximum at no flow".to_owned()
    } else if top_m3_s <= first || top_m3_s >= last {
        format!("a maximum at {}", print(top_m3_s, Unit::M3_PER_H))
    } else {
        return Ok(());
    };
    Err(vec![Fault::new(
        fields::HEAD.key,
        "head of the pump as fitted to its datasheet, where the heads first rise",
        given,
        format!(
            "a maximum between {} and {}, the first and the last flow",
            print(first, Unit::M3_PER_H),
            print(last, Unit::M3_PER_H)
        ),
        "compare the points with the datasheet; if they are right, give only the points from the highest head on, \
         with `curve = \"through-points\"`",
    )])
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

fn head_curve(sheet: &PumpSheet) -> Option<HeadCurve> {
    let (flows, heads) = (&sheet.flow_m3_s, &sheet.head_m);
    if sheet.curve == CurveForm::ThroughPoints {
        let points: Vec<(f64, f64)> = flows.iter().copied().zip(heads.iter().copied()).collect();
        return HeadCurve::through(&points);
    }
    if sheet.top() > 0 {
        let rows: Vec<[f64; 3]> = flows.iter().map(|q| [1.0, *q, q * q]).collect();
        let [shut_off_m, linear_s_m2, square_s2_m5] = least_squares(&rows, heads)?;
        return (shut_off_m > 0.0).then_some(HeadCurve::Humped {
            shut_off_m,
            linear_s_m2,
            square_s2_m5,
        });
    }
    let rows: Vec<[f64; 2]> = flows.iter().map(|q| [1.0, q * q]).collect();
    let [shut_off_m, square_s2_m5] = least_squares(&rows, heads).filter(|fit| fit[0] > 0.0 && fit[1] < 0.0)?;
    Some(HeadCurve::Falling {
        shut_off_m,
        square_s2_m5,
    })
}

fn efficiency_curve(sheet: &PumpSheet, points: &[(f64, f64)]) -> Option<EfficiencyCurve> {
    if sheet.curve == CurveForm::ThroughPoints {
        return EfficiencyCurve::through(points);
    }
    let rows: Vec<[f64; 3]> = points.iter().map(|(q, _)| [*q, q * q, q * q * q]).collect();
    let values: Vec<f64> = points.iter().map(|(_, eta)| *eta).collect();
    least_squares(&rows, &values).map(EfficiencyCurve::Cubic)
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
    let at_no_flow = pump.efficiency.per_flow(0.0);
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
        .or(if at_no_flow > 0.0 { None } else { Some(0) });
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

fn errors(pump: &Pump, sheet: &PumpSheet, points: &[(f64, f64)]) -> PumpFitErrors {
    let heads = sheet.flow_m3_s.iter().zip(&sheet.head_m).map(|(&q, &h)| (q, h, pump.head_m(q, 1.0)));
    let etas = points.iter().map(|&(q, eta)| (q, eta, pump.fitted_efficiency(q)));
    PumpFitErrors {
        head_m: greatest(heads.clone().map(|(_, given, fitted)| fitted - given)),
        efficiency: greatest(etas.clone().map(|(_, given, fitted)| fitted - given)),
        head_misfit: Misfit::of_whole(pump.shut_off_head_m(), heads),
        efficiency_misfit: Misfit::of_given(etas),
    }
}

fn greatest(differences: impl Iterator<Item = f64>) -> f64 {
    differences.map(f64::abs).fold(0.0, f64::max)
}

fn check_misfit(sheet: &PumpSheet, pump: &Pump) -> Result<(), Vec<Fault>> {
    let [head, mut efficiency] = judged(&pump.head);
    if sheet.shaft_power_w.is_some() {
        efficiency.key = fields::SHAFT_POWER.key;
    }
    let errors = pump.fit_errors;
    let checks = [
        errors.head_misfit.check(&head),
        errors.efficiency_misfit.check(&efficiency),
    ];
    let faults: Vec<Fault> = checks.into_iter().filter_map(Result::err).collect();
    if faults.is_empty() { Ok(()) } else { Err(faults) }
}

/// How misfits of head and efficiency are worded. A curve through points must fall everywhere, so heads that first rise
/// need another advice.
pub(crate) fn judged(head: &HeadCurve) -> [Judged<'static>; 2] {
    let otherwise = match head {
        HeadCurve::Humped { .. } => "give only the points from the highest head on, with `curve = \"through-points\"`",
        _ => FOLLOW_POINTS,
    };
    let of = |key, quantity, unit, of| Judged {
        key,
        quantity,
        unit,
        at: (Unit::M3_PER_H, ""),
        of,
        otherwise,
    };
    [
        of(fields::HEAD.key, "head of the pump", Unit::M, " of the shut-off head"),
        of(fields::EFFICIENCY.key, "efficiency of the pump", Unit::PERCENT, ""),
    ]
}
