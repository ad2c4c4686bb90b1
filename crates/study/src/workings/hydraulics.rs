//! Head and flow at the mains duty point in the month when the standing water level is lowest.

use daylift_lift::{MainsPoint, Pipe, PumpSet, darcy_friction_factor};
use daylift_units::Month;
use daylift_units::constants::{GRAVITY_M_S2, HOUR_S};

use super::{Case, Symbol, Working};

const FRICTION_SOURCE: &str = "Darcy–Weisbach (Weisbach 1845) with Colebrook–White (Colebrook 1939)";

pub(super) fn workings(case: &Case<'_>) -> Vec<Working> {
    case.of_each_set(|_, set| {
        let Some(duty) = DeepestDuty::new(set) else {
            return Vec::new();
        };
        vec![
            duty.total_dynamic_head(),
            duty.drawdown(),
            duty.friction_head(),
            duty.duty_flow(),
        ]
    })
}

/// The mains duty point in the month when the standing water level is lowest.
pub(super) struct DeepestDuty<'a> {
    pub(super) set: &'a PumpSet,
    pub(super) month: Month,
    pub(super) point: MainsPoint,
}

impl<'a> DeepestDuty<'a> {
    pub(super) fn new(set: &'a PumpSet) -> Option<Self> {
        let month = deepest_month(set);
        Some(Self {
            set,
            month,
            point: set.mains(month)?,
        })
    }

    pub(super) fn place(&self) -> String {
        format!(
            "at rated speed in {}, when the standing water level is lowest",
            self.month.name()
        )
    }

    pub(super) fn flow_m3_h(&self) -> f64 {
        self.point.duty.flow_m3_s * HOUR_S
    }

    pub(super) fn system_head_m(&self) -> f64 {
        self.set.system().head_m(self.month, self.point.duty.flow_m3_s)
    }

    fn total_dynamic_head(&self) -> Working {
        let parts = self.set.system().head_parts(self.month, self.point.duty.flow_m3_s);
        let m = |symbol: &str, meaning: &str, value: f64| Symbol::new(symbol, meaning, value, "m");
        Working {
            name: "total-dynamic-head".into(),
            comparable: true,
            title: format!("Total dynamic head {}", self.place()),
            value: self.system_head_m(),
            unit: "m".into(),
            formula: "z + s + L + p + F + K".into(),
            symbols: vec![
                m("z", "standing water level below the well head", parts.static_level_m),
                m("s", "drawdown at the duty flow", parts.drawdown_m),
                m("L", "outlet above the well head", parts.outlet_lift_m),
                m("p", "pressure needed at the outlet, as head", parts.outlet_pressure_m),
                m("F", "friction in the pipes at the duty flow", parts.friction_m),
                m("K", "losses of the fittings at the duty flow", parts.fittings_m),
            ],
            source:
                "drawdown B·Q + C·Q² (Jacob 1947); friction by Darcy–Weisbach with Colebrook–White (Colebrook 1939)"
                    .into(),
            caution: "it depends mostly on the standing level and the step test: measure both on the farm before you order a pump"
                .into(),
        }
    }

    fn drawdown(&self) -> Working {
        let well = self.set.system().well();
        let sheet = well.sheet();
        Working {
            name: "drawdown".into(),
            comparable: true,
            title: format!("Drawdown {}", self.place()),
            value: well.drawdown_m(self.point.duty.flow_m3_s),
            unit: "m".into(),
            formula: "B * Q + C * Q^2".into(),
            symbols: vec![
                Symbol::new("B", "aquifer loss", sheet.aquifer_loss_s_m2 / HOUR_S, "m per m³/h"),
                Symbol::new("C", "well loss", sheet.well_loss_s2_m5 / (HOUR_S * HOUR_S), "m per (m³/h)²"),
                Symbol::new("Q", "duty flow", self.flow_m3_h(), "m³/h"),
            ],
            source: "Jacob (1947)".into(),
            caution: "B grows over days of pumping, and neighbouring wells add to it: a step test of a few hours gives too low a value"
                .into(),
        }
    }

    fn friction_head(&self) -> Working {
        let system = self.set.system();
        let mut formula = Vec::new();
        let mut symbols = Vec::new();
        for (n, pipe) in (1..).zip(system.pipes()) {
            formula.push(format!("f{n} * L{n} / D{n} * v{n}^2 / (2 * g)"));
            symbols.extend(self.symbols_of_pipe(n, pipe));
        }
        symbols.push(Symbol::new("g", "gravity", GRAVITY_M_S2, "m/s²"));
        Working {
            name: "friction-head".into(),
            comparable: true,
            title: format!("Friction in the pipes {}", self.place()),
            value: system.head_parts(self.month, self.point.duty.flow_m3_s).friction_m,
            unit: "m".into(),
            formula: formula.join(" + "),
            symbols,
            source: FRICTION_SOURCE.into(),
            caution: "scale and iron make pipes rougher and narrower over the years; fittings are counted separately"
                .into(),
        }
    }

    fn symbols_of_pipe(&self, n: usize, pipe: &Pipe) -> [Symbol; 4] {
        let (sheet, flow_m3_s) = (pipe.sheet(), self.point.duty.flow_m3_s);
        let reynolds = pipe.reynolds(flow_m3_s, self.set.system().water());
        let factor = darcy_friction_factor(reynolds, sheet.roughness_m / sheet.bore_m);
        let of = |letter: char, meaning: &str, value: f64, unit: &str| {
            Symbol::new(
                &format!("{letter}{n}"),
                &format!("{meaning}, {}", pipe.name()),
                value,
                unit,
            )
        };
        [
            of('f', &format!("friction factor at Re {reynolds:.0}"), factor, ""),
            of('L', "length", sheet.length_m, "m"),
            of('D', "inner diameter", sheet.bore_m, "m"),
            of('v', "velocity", pipe.velocity_m_s(flow_m3_s), "m/s"),
        ]
    }

    fn duty_flow(&self) -> Working {
        let pump = self.set.pump();
        let throttled = self.point.throttled;
        let well_note = if throttled {
            " The valve is throttled so that the water level does not reach the intake."
        } else {
            ""
        };
        // With a throttled valve, the pump's curve gives the head of the pump, which is more than that of the system.
        let (head_m, meaning) = if throttled {
            (self.point.duty.head_m, "head of the pump, valve included")
        } else {
            (self.system_head_m(), "total dynamic head")
        };
        let (formula, symbols) = self.on_pump_curve(head_m, meaning);
        let (source, fit) = if pump.head_terms().is_some() {
            (
                "pump curve fitted by least squares to the datasheet",
                format!(
                    "the fit differs from the datasheet by up to {:.1} m",
                    pump.fit_errors().head_m
                ),
            )
        } else {
            (
                "pump curve through the points of the datasheet (Fritsch & Butland 1984)",
                "the curve goes through every point of the datasheet".to_owned(),
            )
        };
        Working {
            name: "duty-flow".into(),
            comparable: true,
            title: format!("Duty flow {}", self.place()),
            value: self.flow_m3_h(),
            unit: "m³/h".into(),
            formula: formula.into(),
            symbols,
            source: format!("{source}; the duty point is where it meets the system's curve"),
            caution: format!(
                "{fit}; the pump itself may differ within its ISO 9906 grade (±8% flow, ±5% head for grade 2B).{well_note}",
            ),
        }
    }

    /// The duty flow from the head, on the pump's curve: formula and symbols. On a curve through the datasheet's points,
    /// the place between two of them.
    fn on_pump_curve(&self, head_m: f64, meaning: &str) -> (&'static str, Vec<Symbol>) {
        let pump = self.set.pump();
        let (h0, head) = (
            |of: &str| {
                Symbol::new(
                    "H0",
                    &format!("shut-off head of the fitted curve {of}"),
                    pump.shut_off_head_m(),
                    "m",
                )
            },
            Symbol::new("H", meaning, head_m, "m"),
        );
        let curvature = |c: f64| Symbol::new("c", "curvature of the fitted curve", -c, "s²/m⁵");
        match pump.head_terms() {
            Some([_, b, c]) if b > 0.0 => {
                let rise = Symbol::new("b", "rise of the fitted curve at no flow", b, "s/m²");
                let formula = if self.point.duty.flow_m3_s >= b / (-2.0 * c) {
                    "(b + (b^2 + 4 * c * (H0 - H))^0.5) / (2 * c) * 3600"
                } else {
                    "(b - (b^2 + 4 * c * (H0 - H))^0.5) / (2 * c) * 3600"
                };
                (formula, vec![h0("H0 + b·Q − c·Q²"), head, rise, curvature(c)])
            }
            Some([_, _, c]) => ("((H0 - H) / c)^0.5 * 3600", vec![h0("H0 − c·Q²"), head, curvature(c)]),
            None => {
                let [below, above] = pump.points_around(self.point.duty.flow_m3_s).unwrap_or([0.0, 1.0]);
                let share = (self.point.duty.flow_m3_s - below) / (above - below);
                let symbols = vec![
                    Symbol::new("Qa", "flow of the datasheet's point below", below * HOUR_S, "m³/h"),
                    Symbol::new("Qb", "flow of the datasheet's point above", above * HOUR_S, "m³/h"),
                    Symbol::new(
                        "t",
                        &format!("share of the way at which the cubic has {head_m:.1} m, {meaning}"),
                        share,
                        "",
                    ),
                ];
                ("Qa + t * (Qb - Qa)", symbols)
            }
        }
    }
}

/// The month when the standing water level is lowest, the first of several.
pub(crate) fn deepest_month(set: &PumpSet) -> Month {
    let well = set.system().well();
    let deeper = |a: &Month, b: &Month| well.static_level_m(*a).total_cmp(&well.static_level_m(*b)).then(b.cmp(a));
    Month::ALL.into_iter().max_by(deeper).unwrap_or(Month::January)
}
