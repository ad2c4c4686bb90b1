//! Head, flow and efficiency at the mains duty point in the month with the deepest standing water.

use daylift_lift::{MainsPoint, PumpSet};
use daylift_units::constants::{GRAVITY_M_S2, HOUR_S};
use daylift_units::month;

use super::{Symbol, Working};

/// The mains duty point in the month with the deepest standing water.
pub(super) struct DeepestDuty<'a> {
    set: &'a PumpSet,
    month: usize,
    point: MainsPoint,
    name: Option<&'a str>,
}

impl<'a> DeepestDuty<'a> {
    pub(super) fn new(set: &'a PumpSet, name: Option<&'a str>) -> Option<Self> {
        let well = set.system().well();
        let month =
            (0..12).max_by(|&a, &b| well.static_level_m(a).total_cmp(&well.static_level_m(b)).then(b.cmp(&a)))?;
        Some(Self {
            set,
            month,
            point: set.mains(month)?,
            name,
        })
    }

    fn place(&self) -> String {
        let of = self.name.map(|name| format!("of {name} ")).unwrap_or_default();
        format!(
            "{of}on mains in {}, when the standing water is deepest",
            month::name(self.month)
        )
    }

    fn flow_m3_h(&self) -> f64 {
        self.point.duty.flow_m3_s * HOUR_S
    }

    fn system_head_m(&self) -> f64 {
        self.set.system().head_m(self.month, self.point.duty.flow_m3_s)
    }

    pub(super) fn total_dynamic_head(&self) -> Working {
        let parts = self.set.system().head_parts(self.month, self.point.duty.flow_m3_s);
        Working {
            name: "total-dynamic-head".into(),
            title: format!("Total dynamic head {}", self.place()),
            value: self.system_head_m(),
            unit: "m".into(),
            formula: "z + s + L + p + F + K".into(),
            symbols: vec![
                Symbol::new(
                    "z",
                    "standing water level below the well head",
                    parts.static_level_m,
                    "m",
                ),
                Symbol::new("s", "drawdown at the duty flow", parts.drawdown_m, "m"),
                Symbol::new("L", "outlet above the well head", parts.outlet_lift_m, "m"),
                Symbol::new(
                    "p",
                    "pressure wanted at the outlet, as head",
                    parts.outlet_pressure_m,
                    "m",
                ),
                Symbol::new("F", "friction in the pipes at the duty flow", parts.friction_m, "m"),
                Symbol::new("K", "losses of the fittings at the duty flow", parts.fittings_m, "m"),
            ],
            source:
                "drawdown B·Q + C·Q² (Jacob 1947); friction by Darcy–Weisbach with Colebrook–White (Colebrook 1939)"
                    .into(),
            caution: "the standing level and the step test decide it: measure both on the farm before ordering a pump"
                .into(),
        }
    }

    pub(super) fn duty_flow(&self) -> Working {
        let pump = self.set.pump();
        let throttled = self.point.throttled;
        let well_note = if throttled {
            " The valve is throttled so that the well is not drawn down to the intake."
        } else {
            ""
        };
        // With a throttled valve the pump's own head at its flow is what the curve gives, not the system's.
        let head_m = if throttled {
            pump.head_m(self.point.duty.flow_m3_s, 1.0)
        } else {
            self.system_head_m()
        };
        Working {
            name: "duty-flow".into(),
            title: format!("Duty flow {}", self.place()),
            value: self.flow_m3_h(),
            unit: "m³/h".into(),
            formula: "((H0 - H) / c)^0.5 * 3600".into(),
            symbols: vec![
                Symbol::new("H0", "shut-off head of the fitted curve H0 − c·Q²", pump.shut_off_head_m(), "m"),
                Symbol::new("H", if throttled { "head of the pump, valve included" } else { "total dynamic head" }, head_m, "m"),
                Symbol::new("c", "fall of the fitted curve", -pump.head_coefficient_s2_m5(), "s²/m⁵"),
            ],
            source: "pump curve fitted by least squares to the datasheet; the duty point is where it meets the system's curve".into(),
            caution: format!(
                "the fit misses the datasheet by up to {:.1} m; the pump itself may miss it by its ISO 9906 grade (±8% flow, ±5% head for grade 2B).{well_note}",
                pump.fit_errors().head_m
            ),
        }
    }

    pub(super) fn wire_to_water(&self) -> Working {
        let water = self.set.system().water();
        let head_m = self.system_head_m();
        let value = water.density_kg_m3() * GRAVITY_M_S2 * self.point.duty.flow_m3_s * head_m / self.point.supply_w;
        Working {
            name: "wire-to-water-efficiency".into(),
            title: format!("Wire-to-water efficiency {}", self.place()),
            value: value * 100.0,
            unit: "%".into(),
            formula: "100 * rho * g * (Q / 3600) * H / (1000 * P)".into(),
            symbols: vec![
                Symbol::new("rho", "density of the water", water.density_kg_m3(), "kg/m³"),
                Symbol::new("g", "gravity", GRAVITY_M_S2, "m/s²"),
                Symbol::new("Q", "duty flow", self.flow_m3_h(), "m³/h"),
                Symbol::new("H", "total dynamic head", head_m, "m"),
                Symbol::new(
                    "P",
                    "power at the beginning of the motor cable",
                    self.point.supply_w / 1000.0,
                    "kW",
                ),
            ],
            source: "hydraulic power over electrical power; density by Kell (1975)".into(),
            caution: "35% to 65% is usual for boreholes (usual practice, no published source)".into(),
        }
    }
}
