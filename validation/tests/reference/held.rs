//! Two years of one row side by side, and the worst disagreement of each kind.

use std::fmt;

use daylift_validation::reference::Account;
use serde_json::Value;

/// Kinds of values, each with its own allowed difference.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Kind {
    /// Relative to the demand.
    Water,
    /// Relative to the energy available plus imported, or to the value itself where there is neither.
    Energy,
    /// Relative to the energy available.
    Loss,
    /// Relative to the year.
    Hours,
    /// Relative to the value itself, or to 1000 l where it is less.
    Fuel,
    /// Relative to the value itself, or to 200 where it is less.
    Starts,
}

impl Kind {
    pub(crate) const ALL: [Self; 6] = [
        Self::Water,
        Self::Energy,
        Self::Loss,
        Self::Hours,
        Self::Fuel,
        Self::Starts,
    ];

    pub(crate) fn allowed(self) -> f64 {
        match self {
            Self::Water | Self::Energy => 1e-3,
            Self::Loss | Self::Hours => 2e-3,
            Self::Fuel => 5e-3,
            Self::Starts => 1e-2,
        }
    }
}

const ONE: f64 = 1.0;
const M3: f64 = 1.0;
const KWH: f64 = 3.6e6;
const H: f64 = 3600.0;

/// Kind, pointer into the fast engine's answer, id in the reference, unit of the answer.
const VALUES: [(Kind, &str, &str, f64); 30] = [
    (Kind::Water, "/water_m3/demand", "demand", M3),
    (Kind::Water, "/water_m3/pumped", "pumped", M3),
    (Kind::Water, "/water_m3/delivered", "delivered", M3),
    (Kind::Energy, "/array_kwh/available", "available", KWH),
    (Kind::Energy, "/array_kwh/to_pump", "to-pump", KWH),
    (Kind::Energy, "/array_kwh/to_loads", "to-loads", KWH),
    (Kind::Energy, "/array_kwh/to_battery", "to-battery", KWH),
    (Kind::Energy, "/array_kwh/exported_paid", "exported-paid", KWH),
    (Kind::Energy, "/array_kwh/exported_unpaid", "exported-unpaid", KWH),
    (Kind::Energy, "/grid_kwh/imported", "imported", KWH),
    (Kind::Energy, "/grid_kwh/exported", "exported", KWH),
    (Kind::Energy, "/pump_kwh/grid", "pump-grid", KWH),
    (Kind::Energy, "/pump_kwh/battery", "pump-battery", KWH),
    (Kind::Energy, "/pump_kwh/generator", "pump-generator", KWH),
    (Kind::Energy, "/load_kwh/grid", "load-grid", KWH),
    (Kind::Energy, "/load_kwh/battery", "load-battery", KWH),
    (Kind::Energy, "/load_kwh/generator", "load-generator", KWH),
    (Kind::Energy, "/load_kwh/unserved", "load-unserved", KWH),
    (Kind::Energy, "/battery_kwh/from_grid", "from-grid", KWH),
    (Kind::Energy, "/battery_kwh/discharged", "discharged", KWH),
    (Kind::Energy, "/generator/kwh", "generator", KWH),
    (Kind::Hours, "/generator/hours", "generator-time", H),
    (Kind::Fuel, "/generator/fuel_l", "fuel", 1e-3),
    (Kind::Hours, "/hours/outage", "outage", H),
    (Kind::Hours, "/hours/pumping", "pumping", H),
    (Kind::Hours, "/hours/pumping_in_outage", "pumping-in-outage", H),
    (Kind::Starts, "/starts/motor", "motor-starts", ONE),
    (Kind::Starts, "/starts/most_in_a_day", "most-starts-in-a-day", ONE),
    (Kind::Starts, "/starts/drive_power_ups", "drive-power-ups", ONE),
    (Kind::Starts, "/starts/changeover_cycles", "changeover-cycles", ONE),
];

/// One value in both engines.
#[derive(Debug, Clone)]
pub(crate) struct Held {
    pub(crate) kind: Kind,
    pub(crate) what: String,
    pub(crate) plant: String,
    pub(crate) row: String,
    pub(crate) fast: f64,
    pub(crate) reference: f64,
    pub(crate) size: f64,
}

impl Held {
    pub(crate) fn share(&self) -> f64 {
        let off = (self.fast - self.reference).abs();
        if off <= 1e-6 { 0.0 } else { off / self.size.max(1e-6) }
    }

    pub(crate) fn fails(&self) -> bool {
        self.share().is_nan() || self.share() > self.kind.allowed()
    }

    /// The disagreement that remains when the reference may lie anywhere between its own value and `others`.
    pub(crate) fn beyond(mut self, others: &[f64]) -> Self {
        let low = others.iter().copied().fold(self.reference, f64::min);
        let high = others.iter().copied().fold(self.reference, f64::max);
        self.reference = self.fast.clamp(low, high);
        self
    }
}

impl fmt::Display for Held {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{:?} {:.4} % ({} of {}, {}: fast {:.4}, reference {:.4})",
            self.kind,
            100.0 * self.share(),
            self.what,
            self.plant,
            self.row,
            self.fast,
            self.reference
        )
    }
}

/// All values of a row.
pub(crate) fn held(plant: &str, fast: &Value, reference: &Account) -> Vec<Held> {
    let number = |pointer: &str| fast.pointer(pointer).and_then(Value::as_f64).unwrap_or(f64::NAN);
    let row = fast["id"].as_str().unwrap_or_default();
    let demand_m3 = reference.get("demand");
    let available_kwh = reference.kwh("available");
    let supplied_kwh = available_kwh + number("/grid_kwh/imported");
    let one = |kind: Kind, what: &str, fast: f64, reference: f64| Held {
        kind,
        what: what.to_owned(),
        plant: plant.to_owned(),
        row: row.to_owned(),
        fast,
        reference,
        size: match kind {
            Kind::Water => demand_m3,
            Kind::Energy if supplied_kwh > 0.0 => supplied_kwh,
            Kind::Energy => reference,
            Kind::Loss => available_kwh,
            Kind::Hours => 8760.0,
            Kind::Fuel => reference.max(1000.0),
            Kind::Starts => reference.max(200.0),
        },
    };
    let mut all: Vec<Held> = VALUES
        .iter()
        .map(|&(kind, pointer, id, unit)| one(kind, pointer, number(pointer), reference.get(id) / unit))
        .collect();
    for (cause, fast) in fast["array_kwh"]["lost"].as_object().into_iter().flatten() {
        all.push(one(
            Kind::Loss,
            cause,
            fast.as_f64().unwrap_or(f64::NAN),
            reference.kwh(cause),
        ));
    }
    all
}
