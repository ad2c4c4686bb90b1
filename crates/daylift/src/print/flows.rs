//! Where the sun and the water went, and what the pump ran on, as parts of a whole.

use daylift_study::answer::{ArrayEnergy, PumpEnergy, WaterVolume};
use daylift_study::detail::WaterSecured;
use daylift_supply::LossCause;

use super::bars::{Matter, Part};

/// Uses of the array's energy, then its losses.
pub(crate) fn sun(e: &ArrayEnergy) -> Vec<Part> {
    let lost = LossCause::ALL.into_iter().map(|c| lost(e, c));
    uses(e).into_iter().chain(lost).collect()
}

/// The same with the losses of used energy as one part.
pub(crate) fn sun_in_short(e: &ArrayEnergy) -> Vec<Part> {
    let of_used = LossCause::OF_USED;
    let others = LossCause::ALL.into_iter().filter(|c| !of_used.contains(c)).map(|c| lost(e, c));
    let used_kwh = of_used.iter().map(|c| e.lost.of(*c)).sum();
    let conversion = Part::new("conversion and cables", used_kwh, Matter::Lost).letter('c');
    uses(e).into_iter().chain(others).chain(std::iter::once(conversion)).collect()
}

fn uses(e: &ArrayEnergy) -> [Part; 5] {
    [
        Part::new("to the pump", e.to_pump, Matter::Water).letter('P'),
        Part::new("to the loads", e.to_loads, Matter::Loads).letter('L'),
        Part::new("to the battery", e.to_battery, Matter::Battery).letter('B'),
        Part::new("exported, paid", e.exported_paid, Matter::Grid).letter('E'),
        Part::new("exported, unpaid", e.exported_unpaid, Matter::Grid).letter('U'),
    ]
}

fn lost(e: &ArrayEnergy, cause: LossCause) -> Part {
    Part::new(cause.id(), e.lost.of(cause), Matter::Lost)
}

/// Water delivered, then water short by what held the pump back.
pub(crate) fn water(water: &WaterVolume, secured: &WaterSecured) -> Vec<Part> {
    let short = secured
        .shortfall_m3
        .iter()
        .map(|s| Part::new(format!("short: {}", s.cause), s.m3, Matter::Lost));
    std::iter::once(Part::new("delivered", water.delivered, Matter::Water).letter('D'))
        .chain(short)
        .collect()
}

/// Energy at the motor's terminals by origin.
pub(crate) fn pump(e: &PumpEnergy) -> Vec<Part> {
    vec![
        Part::new("array", e.array, Matter::Sun).letter('A'),
        Part::new("grid", e.grid, Matter::Grid).letter('G'),
        Part::new("battery", e.battery, Matter::Battery).letter('B'),
        Part::new("generator", e.generator, Matter::Generator).letter('N'),
    ]
}
