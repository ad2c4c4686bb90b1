//! Where the sun and the water went, and what the pump ran on, as parts of a whole.

use daylift_study::answer::{ArrayEnergy, PumpEnergy, WaterVolume};
use daylift_study::detail::WaterSecured;
use daylift_supply::LossCause;

use crate::{say, term};

/// What a part is made of.
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
    /// The generating set.
    Generator,
    /// Lost, or short.
    Lost,
    /// Parts too small to show, taken together.
    Rest,
}

/// A part of a whole.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Its name.
    pub name: String,
    /// How much of it.
    pub amount: f64,
    /// What it is made of.
    pub matter: Matter,
    /// The letter it would like to stand for it.
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

    /// The same with the first letter of a text.
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
pub fn sun(e: &ArrayEnergy) -> Vec<Part> {
    let lost = LossCause::ALL.into_iter().map(|c| lost(e, c));
    uses(e).into_iter().chain(lost).collect()
}

/// The same with the losses of used energy as one part.
#[must_use]
pub fn sun_in_short(e: &ArrayEnergy) -> Vec<Part> {
    let of_used = LossCause::OF_USED;
    let others = LossCause::ALL.into_iter().filter(|c| !of_used.contains(c)).map(|c| lost(e, c));
    let used_kwh = of_used.iter().map(|c| e.lost.of(*c)).sum();
    let conversion = Part::new(say!("use-conversion"), used_kwh, Matter::Lost).letter(&say!("use-conversion.letter"));
    uses(e).into_iter().chain(others).chain(std::iter::once(conversion)).collect()
}

fn uses(e: &ArrayEnergy) -> [Part; 5] {
    [
        Part::new(say!("use-to_pump.terminal"), e.to_pump, Matter::Water).letter(&say!("use-letter-to_pump")),
        Part::new(say!("use-to_loads.terminal"), e.to_loads, Matter::Loads).letter(&say!("use-letter-to_loads")),
        Part::new(say!("use-to_battery.terminal"), e.to_battery, Matter::Battery)
            .letter(&say!("use-letter-to_battery")),
        Part::new(say!("use-exported_paid.terminal"), e.exported_paid, Matter::Grid)
            .letter(&say!("use-letter-exported_paid")),
        Part::new(say!("use-exported_unpaid.terminal"), e.exported_unpaid, Matter::Grid)
            .letter(&say!("use-letter-exported_unpaid")),
    ]
}

fn lost(e: &ArrayEnergy, cause: LossCause) -> Part {
    Part::new(term!("loss-", cause, ".terminal"), e.lost.of(cause), Matter::Lost)
}

/// Water delivered, then water short by what held the pump back.
#[must_use]
pub fn water(water: &WaterVolume, secured: &WaterSecured) -> Vec<Part> {
    let short = secured.shortfall_m3.iter().map(|s| {
        let name = say!("bars-short", cause = term!("shortfall-", s.cause));
        Part::new(name, s.m3, Matter::Lost)
    });
    let delivered = Part::new(say!("bars-delivered"), water.delivered, Matter::Water);
    std::iter::once(delivered.letter(&say!("bars-delivered.letter"))).chain(short).collect()
}

/// Energy at the motor's terminals by origin.
#[must_use]
pub fn pump(e: &PumpEnergy) -> Vec<Part> {
    vec![
        Part::new(say!("source-array.terminal"), e.array, Matter::Sun).letter(&say!("source-letter-array")),
        Part::new(say!("source-grid.terminal"), e.grid, Matter::Grid).letter(&say!("source-letter-grid")),
        Part::new(say!("source-battery.terminal"), e.battery, Matter::Battery).letter(&say!("source-letter-battery")),
        Part::new(say!("source-generator.terminal"), e.generator, Matter::Generator)
            .letter(&say!("source-letter-generator")),
    ]
}
