//! A field: one quantity of the plant file, declared once.
//!
//! Validation, messages, the plant file's schema, form hints and the reference page all come from this declaration.

use crate::fault::Fault;

/// A unit used in the plant file and its conversion to SI: `si = value · factor`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Unit {
    /// Printed symbol; empty for a pure number.
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
    /// Hours of a duration.
    HOURS = "h", 3600.0;
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
    /// Per cent per kelvin, to a fraction per kelvin.
    PERCENT_PER_K = "%/K", 1e-2;
    /// Faiman's constant heat transfer.
    W_PER_M2_K = "W/(m²·K)", 1.0;
    /// Faiman's wind-dependent heat transfer.
    W_S_PER_M3_K = "W·s/(m³·K)", 1.0;
    /// Watt per square metre.
    W_PER_M2 = "W/m²", 1.0;
    /// Metre per second.
    M_PER_S = "m/s", 1.0;
    /// Daily kilowatt-hours per square metre, to the mean in watts per square metre.
    KWH_PER_M2_DAY = "kWh/m² a day", 1000.0 / 24.0;
    /// Kilowatt-hour.
    KWH = "kWh", 3.6e6;
    /// Litre per hour.
    L_PER_H = "l/h", 1e-3 / 3600.0;
    /// Ohm per kilometre.
    OHM_PER_KM = "Ω/km", 1e-3;
    /// Money per litre, to money per cubic metre.
    MONEY_PER_L = "per l", 1e3;
    /// Money per running hour, to money per second.
    MONEY_PER_H = "per h", 1.0 / 3600.0;
    /// Money, in the plant's currency.
    MONEY = "", 1.0;
    /// Money per cubic metre.
    MONEY_PER_M3 = "per m³", 1.0;
    /// Money per kilowatt-hour, to money per joule.
    MONEY_PER_KWH = "per kWh", 1.0 / 3.6e6;
}

/// A default value and its source.
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
    /// Smallest value allowed, in the file's unit.
    pub least: f64,
    /// Largest value allowed, in the file's unit.
    pub greatest: f64,
    /// Why the range has these limits.
    pub reason: &'static str,
    /// Default when the file gives no value.
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

    /// The same field with a default and its source.
    #[must_use]
    pub const fn or(mut self, value: f64, source: &'static str) -> Self {
        self.preset = Some(Preset { value, source });
        self
    }

    /// The same field, restricted to whole numbers.
    #[must_use]
    pub const fn whole(mut self) -> Self {
        self.whole = true;
        self
    }

    /// Checks a value in the file's unit and converts it to SI.
    ///
    /// # Errors
    /// A fault when the value is not finite, outside the range, or not whole where it must be.
    pub fn check(&self, value: f64) -> Result<f64, Fault> {
        let inside = value >= self.least && value <= self.greatest;
        if !inside || (self.whole && value.fract() != 0.0) {
            return Err(Fault::new(
                self.key,
                self.quantity,
                self.print(value),
                self.allowed(),
                self.remedy(value),
            ));
        }
        Ok(value * self.unit.factor)
    }

    /// Checks a value in SI. At the ends of the range a relative rounding error of 1e-12 is tolerated.
    ///
    /// # Errors
    /// As [`Field::check`].
    pub fn check_si(&self, value_si: f64) -> Result<(), Fault> {
        let value = value_si / self.unit.factor;
        let at_end = |end: f64| (value - end).abs() <= 1e-12 * end.abs();
        if at_end(self.least) || at_end(self.greatest) {
            return Ok(());
        }
        self.check(as_typed(value)).map(|_| ())
    }

    /// The fault for percentages that were probably given as fractions (66% as 0.66): none of them exceeds `at_most`, a
    /// fraction. `None` for an empty list, or when a value is not finite.
    #[must_use]
    pub fn given_as_fractions(&self, values_si: &[f64], at_most: f64) -> Option<Fault> {
        let greatest = values_si.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let finite = values_si.iter().all(|value| value.is_finite());
        (finite && greatest > 0.0 && greatest <= at_most).then(|| {
            Fault::new(
                self.key,
                self.quantity,
                format!("{} at most", self.print_si(greatest)),
                format!("more than {} somewhere", self.print_si(at_most)),
                format!("did you give fractions? Give `{}` in per cent: 66, not 0.66", self.key),
            )
        })
    }

    /// The fault for a value below that of another field, where no datasheet can have this; both in SI. `None` when one
    /// of the values was not given.
    #[must_use]
    pub fn not_below(&self, value_si: Option<f64>, other: &Field, least_si: Option<f64>) -> Option<Fault> {
        let (value_si, least_si) = (value_si?, least_si?);
        (value_si < least_si).then(|| {
            Fault::new(
                self.key,
                self.quantity,
                self.print_si(value_si),
                format!("{} or more ({})", other.print_si(least_si), other.quantity),
                format!(
                    "copy `{}` and `{}` from the datasheet; are they swapped?",
                    self.key, other.key
                ),
            )
        })
    }

    /// Prints a value in SI in the file's unit, as it was typed there.
    #[must_use]
    pub fn print_si(&self, value_si: f64) -> String {
        self.print(as_typed(value_si / self.unit.factor))
    }

    /// What is allowed, and why, in words.
    #[must_use]
    pub fn allowed(&self) -> String {
        if self.least >= self.greatest {
            return format!("{} ({})", self.print(self.least), self.reason);
        }
        let whole = if self.whole { "a whole number, " } else { "" };
        format!(
            "{whole}{} to {} ({})",
            number(self.least),
            self.print(self.greatest),
            self.reason
        )
    }

    /// The default, in SI.
    #[must_use]
    pub fn preset_si(&self) -> Option<f64> {
        self.preset.map(|p| p.value * self.unit.factor)
    }

    /// Prints a value in the file's unit, with the unit's symbol.
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

/// Rounds to twelve significant figures, to remove the noise of a conversion to SI and back.
fn as_typed(value: f64) -> f64 {
    format!("{value:.11e}").parse().unwrap_or(value)
}

/// Prints a number as a person writes it: no trailing zeros, and an exponent only for a very small number, or for one of
/// 1e9 or more that is shorter with it.
#[must_use]
pub fn number(value: f64) -> String {
    if value == 0.0 {
        return "0".to_owned();
    }
    let (plain, with_exponent) = (format!("{value}"), format!("{value:e}"));
    let is_large = value.is_finite() && value.abs() >= 1e9;
    if value.abs() < 1e-6 || is_large && with_exponent.len() < plain.len() {
        with_exponent
    } else {
        plain
    }
}

/// Figures with a comma between thousands: `1,234.5` of `1234.5`.
#[must_use]
pub fn thousands(figures: &str) -> String {
    let (whole, fraction) = figures.split_once('.').map_or((figures, None), |(w, f)| (w, Some(f)));
    let mut out = String::new();
    for (i, digit) in whole.chars().enumerate() {
        if i > 0 && (whole.len() - i).is_multiple_of(3) {
            out.push(',');
        }
        out.push(digit);
    }
    if let Some(fraction) = fraction {
        out.push('.');
        out.push_str(fraction);
    }
    out
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
    fn a_value_in_si_is_checked_and_printed_in_the_unit_of_the_file() {
        let loss = Field::new("loss_pct", "loss", Unit::PERCENT, 0.7, 7.0, "test");
        // 7·0.01 and 0.7·0.01 differ from 0.07 and 0.007 by rounding.
        for share in [7.0 * 0.01, 0.07, 0.007, 0.7 * 0.01, 0.07 * (1.0 + 0.9e-12)] {
            assert!(loss.check_si(share).is_ok(), "{share}");
        }
        for share in [0.07 * (1.0 + 1e-9), 0.007 * (1.0 - 1e-9), f64::NAN, f64::INFINITY] {
            assert!(loss.check_si(share).is_err(), "{share}");
        }
        let fault = loss.check_si(0.14).unwrap_err();
        assert_eq!(
            (fault.given.as_str(), fault.allowed.as_str()),
            ("14%", "0.7 to 7% (test)")
        );
    }

    #[test]
    fn percentages_given_as_fractions_are_one_fault() {
        let efficiency = Field::new("efficiency_pct", "efficiency", Unit::PERCENT, 20.0, 99.0, "test");
        let fault = efficiency.given_as_fractions(&[0.0085, 0.0087], 0.01).unwrap();
        assert!(fault.to_string().starts_with("efficiency: 0.87% at most; allowed: more than 1%"));
        assert!(efficiency.given_as_fractions(&[0.0085, 0.87], 0.01).is_none());
        assert!(efficiency.given_as_fractions(&[], 0.01).is_none());
        assert!(efficiency.given_as_fractions(&[f64::NAN], 0.01).is_none());
    }

    #[test]
    fn whole_numbers_only_where_declared() {
        let count = Field::new("strings", "strings", Unit::COUNT, 1.0, 10.0, "test").whole();
        assert!(count.check(2.5).is_err());
        assert!(count.check(2.0).is_ok());
    }
}
