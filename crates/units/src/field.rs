//! A field: one quantity of the plant file, declared once.
//!
//! Validation, messages, the plant file's schema, form hints and the reference page all come from the declaration.

use crate::fault::Fault;

/// A unit of the plant file and its way to SI: `si = value · factor`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Unit {
    /// Symbol as printed, empty for a pure number.
    pub symbol: &'static str,
    /// Multiplier to SI.
    pub factor: f64,
}

macro_rules! units {
    ($($(#[$doc:meta])* $name:ident = $symbol:literal, $factor:expr;)*) => {
        impl Unit { $($(#[$doc])* pub const $name: Unit = Unit { symbol: $symbol, factor: $factor };)* }
    };
}

units! {
    /// A pure number.
    ONE = "", 1.0;
    /// A count.
    COUNT = "", 1.0;
    /// Degree of arc, kept as degrees.
    DEGREE = "°", 1.0;
    /// Degree Celsius, kept as degrees Celsius.
    CELSIUS = "°C", 1.0;
    /// Metre.
    M = "m", 1.0;
    /// Millimetre.
    MM = "mm", 1e-3;
    /// Second.
    S = "s", 1.0;
    /// Minute.
    MIN = "min", 60.0;
    /// Year, kept as years.
    YEAR = "years", 1.0;
    /// Hour of the civil day, kept as hours.
    HOUR = "h", 1.0;
    /// Kilowatt.
    KW = "kW", 1e3;
    /// Watt.
    W = "W", 1.0;
    /// Volt.
    V = "V", 1.0;
    /// Ampere.
    A = "A", 1.0;
    /// Ampere per kelvin.
    A_PER_K = "A/K", 1.0;
    /// Volt per kelvin.
    V_PER_K = "V/K", 1.0;
    /// Hertz.
    HZ = "Hz", 1.0;
    /// Bar.
    BAR = "bar", 1e5;
    /// Cubic metre.
    M3 = "m³", 1.0;
    /// Cubic metre per day.
    M3_PER_DAY = "m³/day", 1.0 / 86_400.0;
    /// Cubic metre per hour.
    M3_PER_H = "m³/h", 1.0 / 3600.0;
    /// Metre per (cubic metre per hour): aquifer loss coefficient.
    M_PER_M3_H = "m per m³/h", 3600.0;
    /// Metre per (cubic metre per hour) squared: well loss coefficient.
    M_PER_M3_H2 = "m per (m³/h)²", 3600.0 * 3600.0;
    /// Per cent, to a fraction.
    PERCENT = "%", 1e-2;
    /// Faiman's constant heat transfer.
    W_PER_M2_K = "W/(m²·K)", 1.0;
    /// Faiman's wind-dependent heat transfer.
    W_S_PER_M3_K = "W·s/(m³·K)", 1.0;
    /// Money, in the plant's currency.
    MONEY = "", 1.0;
    /// Money per kilowatt-hour, to money per joule.
    MONEY_PER_KWH = "per kWh", 1.0 / 3.6e6;
}

/// A value that holds until the file says otherwise, and where it comes from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Preset {
    /// Value in the field's unit.
    pub value: f64,
    /// Where the value comes from.
    pub source: &'static str,
}

/// Declaration of one quantity of the plant file.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Field {
    /// Key in the file; the unit is in it.
    pub key: &'static str,
    /// What it is, in words.
    pub quantity: &'static str,
    /// Unit in the file.
    pub unit: Unit,
    /// Least value allowed, in the file's unit.
    pub least: f64,
    /// Greatest value allowed, in the file's unit.
    pub greatest: f64,
    /// Why the range is what it is.
    pub reason: &'static str,
    /// What holds when the file says nothing.
    pub preset: Option<Preset>,
    /// Whether only whole numbers are allowed.
    pub whole: bool,
}

impl Field {
    /// Declares a quantity that must be given.
    #[must_use]
    pub const fn new(
        key: &'static str,
        quantity: &'static str,
        unit: Unit,
        least: f64,
        greatest: f64,
        reason: &'static str,
    ) -> Self {
        Self {
            key,
            quantity,
            unit,
            least,
            greatest,
            reason,
            preset: None,
            whole: false,
        }
    }

    /// The same with a default and its source.
    #[must_use]
    pub const fn or(mut self, value: f64, source: &'static str) -> Self {
        self.preset = Some(Preset { value, source });
        self
    }

    /// The same, whole numbers only.
    #[must_use]
    pub const fn whole(mut self) -> Self {
        self.whole = true;
        self
    }

    /// A value in the file's unit as SI, if it is allowed.
    ///
    /// # Errors
    /// A fault when the value is not a number, not finite, outside the range or not whole where it must be.
    pub fn check(&self, value: f64) -> Result<f64, Fault> {
        let inside = value >= self.least && value <= self.greatest;
        if !inside || (self.whole && value.fract() != 0.0) {
            return Err(Fault::new(
                self.key,
                self.quantity,
                self.print(value),
                format!(
                    "{}{} to {} ({})",
                    if self.whole { "a whole number, " } else { "" },
                    number(self.least),
                    self.print(self.greatest),
                    self.reason
                ),
                self.remedy(value),
            ));
        }
        Ok(value * self.unit.factor)
    }

    /// The default as SI.
    #[must_use]
    pub fn preset_si(&self) -> Option<f64> {
        self.preset.map(|p| p.value * self.unit.factor)
    }

    /// A value in the file's unit with its symbol.
    #[must_use]
    pub fn print(&self, value: f64) -> String {
        let n = number(value);
        match self.unit.symbol {
            "" => n,
            "°" | "%" => format!("{n}{}", self.unit.symbol),
            symbol => format!("{n} {symbol}"),
        }
    }

    fn remedy(&self, value: f64) -> String {
        if value.is_nan() {
            return format!("give `{}` as a number", self.key);
        }
        let unit = match self.unit.symbol {
            "" => String::new(),
            symbol => format!("; the unit is {symbol}"),
        };
        format!("correct `{}`{unit}", self.key)
    }
}

/// A number as a person writes it: no trailing zeros, no exponent where it can be avoided.
#[must_use]
pub fn number(value: f64) -> String {
    if value == 0.0 {
        return "0".to_owned();
    }
    if value.is_finite() && (value.abs() >= 1e9 || value.abs() < 1e-6) {
        return format!("{value:e}");
    }
    format!("{value}")
}

#[cfg(test)]
mod tests {
    use super::*;

    const DEPTH: Field = Field::new(
        "static_level_m",
        "standing water level below the well head",
        Unit::M,
        0.0,
        600.0,
        "deeper than any usual borehole pump",
    );

    #[test]
    fn a_fault_names_quantity_value_range_and_remedy() {
        let fault = DEPTH.check(-3.0).unwrap_err();
        assert_eq!(
            fault.to_string(),
            "standing water level below the well head: -3 m; allowed: 0 to 600 m (deeper than any usual borehole pump); \
             correct `static_level_m`; the unit is m"
        );
    }

    #[test]
    fn not_a_number_is_never_inside_a_range() {
        assert!(DEPTH.check(f64::NAN).is_err());
        assert!(DEPTH.check(f64::INFINITY).is_err());
    }

    #[test]
    fn whole_numbers_only_where_declared() {
        let count = Field::new("strings", "strings", Unit::COUNT, 1.0, 10.0, "test").whole();
        assert!(count.check(2.5).is_err());
        assert!(count.check(2.0).is_ok());
    }
}
