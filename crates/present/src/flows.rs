//! Uses and losses of the array's energy, uses of the water, and sources of the pump's energy, as parts of a whole.

use daylift_study::columns::Sums;
use daylift_study::columns::groups::{ArrayEnergy, PumpEnergy, WaterVolume};
use daylift_study::detail::WaterSecured;
use daylift_supply::{Flow, LossCause};

use crate::{key_term, say, term};

/// What a part belongs to, which decides how it is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Matter {
    /// The sun's energy.
    Sun,
    /// The pump, and water.
    Water,
    /// The farm's other loads.
    Loads,
    /// The utility.
    Grid,
    /// The battery.
    Battery,
    /// The generator.
    Generator,
    /// Lost, or short.
    Lost,
    /// The sum of parts too small to show.
    Rest,
}

/// A part of a whole.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Its name.
    pub name: String,
    /// Amount, in the unit of the whole.
    pub amount: f64,
    /// What it belongs to.
    pub matter: Matter,
    /// Preferred letter in a bar of letters.
    pub letter: Option<char>,
}

impl Part {
    /// A part without a letter of its own.
    #[must_use]
    pub fn new(name: impl Into<String>, amount: f64, matter: Matter) -> Self {
        Self {
            name: name.into(),
            amount,
            matter,
            letter: None,
        }
    }

    /// The same part with the first letter of a text.
    #[must_use]
    pub fn letter(self, text: &str) -> Self {
        Self {
            letter: text.chars().next(),
            ..self
        }
    }
}

/// Uses of the array's energy, then its losses.
#[must_use]
pub fn sun(e: &Sums<ArrayEnergy>) -> Vec<Part> {
    uses(e).chain(LossCause::ALL.into_iter().map(|c| lost(e, c))).collect()
}

/// The same, with the losses of used energy combined into one part.
#[must_use]
pub fn sun_in_short(e: &Sums<ArrayEnergy>) -> Vec<Part> {
    let of_used = LossCause::OF_USED;
    let others = LossCause::ALL.into_iter().filter(|c| !of_used.contains(c)).map(|c| lost(e, c));
    let used_kwh = of_used.iter().map(|c| e.lost(*c)).sum();
    let conversion = Part::new(say!("use-conversion"), used_kwh, Matter::Lost).letter(&say!("use-conversion.letter"));
    uses(e).chain(others).chain(std::iter::once(conversion)).collect()
}

fn uses(e: &Sums<ArrayEnergy>) -> impl Iterator<Item = Part> {
    e.uses().map(|(key, kwh)| {
        let matter = match key {
            "to_pump" => Matter::Water,
            "to_battery" => Matter::Battery,
            "exported_paid" | "exported_unpaid" => Matter::Grid,
            _ => Matter::Loads,
        };
        Part::new(key_term!("use-", key, ".terminal"), kwh, matter).letter(&key_term!("use-", key, ".letter"))
    })
}

fn lost(e: &Sums<ArrayEnergy>, cause: LossCause) -> Part {
    Part::new(term!("loss-", cause, ".terminal"), e.lost(cause), Matter::Lost)
}

/// Water delivered, then the shortfall by cause.
#[must_use]
pub fn water(water: &Sums<WaterVolume>, secured: &WaterSecured) -> Vec<Part> {
    let short = secured.shortfall_m3.iter().map(|s| {
        let name = say!("bars-short", cause = term!("shortfall-", s.cause));
        Part::new(name, s.m3, Matter::Lost)
    });
    let delivered = Part::new(say!("bars-delivered"), water.of(Flow::Delivered), Matter::Water);
    std::iter::once(delivered.letter(&say!("bars-delivered.letter"))).chain(short).collect()
}

/// Energy at the motor's terminals by source.
#[must_use]
pub fn pump(e: &Sums<PumpEnergy>) -> Vec<Part> {
    let of_source = |(key, kwh)| {
        let matter = match key {
            "array" => Matter::Sun,
            "battery" => Matter::Battery,
            "generator" => Matter::Generator,
            _ => Matter::Grid,
        };
        Part::new(key_term!("source-", key, ".terminal"), kwh, matter).letter(&key_term!("source-", key, ".letter"))
    };
    e.iter().map(of_source).collect()
}
