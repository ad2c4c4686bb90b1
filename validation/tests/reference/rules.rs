//! Random rules of pumping, restart by hand, and the sun's share beside a generator.

use daylift_plant::{Arrangement, DayHours, GivenRule, Plant, Restart, RowRule, RuleSearch, Wiring};
use daylift_units::{Hour, Hourly};

use crate::draws::Draws;

/// Changes a plant, with draws that nothing else takes.
pub(crate) fn vary(draws: &mut Draws, plant: &mut Plant) {
    plant.pumping.search = RuleSearch::AsWritten;
    let levels = Levels::of(draws, plant);
    let given = &mut plant.pumping.given;
    given.hours = changed_hours(draws, given.hours);
    given.fill = levels.fill(draws).filter(|_| draws.chance(0.5));
    given.surplus = Some(surplus(draws)).filter(|_| draws.chance(0.4));
    for part in 0..4 {
        if draws.chance(0.5) {
            plant.pumping.rows.push(row_rule(draws, part, &levels));
        }
    }
    plant.restart = restart(draws);
    if let Some(input) = &mut plant.beside.second_input {
        input.hours = changed_hours(draws, input.hours);
    }
    if let Some(night) = &mut plant.beside.night_tank {
        night.hours = changed_hours(draws, Some(night.hours)).unwrap_or(night.hours);
    }
    if let Some(generator) = &mut plant.beside.generator {
        generator.hours = changed_hours(draws, Some(generator.hours)).unwrap_or(generator.hours);
        generator.sun_share = draws.one_of(&[0.0, 0.3, 0.5, 0.8, 1.0]);
    }
}

/// Levels that fit the tank of every row.
struct Levels {
    /// A low mark for some row.
    low_mark: f64,
    /// What every fill level is above.
    least_fill: f64,
}

impl Levels {
    fn of(draws: &mut Draws, plant: &Plant) -> Self {
        let restart = plant.tank.restart_m3() / plant.tank.capacity_m3();
        let low_mark = draws.between(0.0, restart - 0.05);
        let of_tank = plant.tank.low_mark_m3() / plant.tank.capacity_m3();
        Self {
            low_mark,
            least_fill: low_mark.max(of_tank) + 0.02,
        }
    }

    /// One fill level, one for the day and one for the night, or one for each hour.
    fn fill(&self, draws: &mut Draws) -> Option<Hourly<f64>> {
        let mut level = || draws.between(self.least_fill, 1.0);
        let (day, night) = (level(), level());
        let each = Hourly::from_fn(|_| level());
        let of_half = |hour: Hour| if (6..18).contains(&hour.begins_h()) { day } else { night };
        match draws.whole(0, 2) {
            0 => Some(Hourly::from_array([day; 24])),
            1 => Some(Hourly::from_fn(of_half)),
            _ => Some(each),
        }
    }
}

/// A share as the plant file allows it.
fn surplus(draws: &mut Draws) -> f64 {
    draws.between(0.01, 1.5)
}

/// One part of a rule for some rows.
fn row_rule(draws: &mut Draws, part: u32, levels: &Levels) -> RowRule {
    let mut given = GivenRule::default();
    match part {
        0 => given.hours = Some(windows(draws)),
        1 => given.fill = levels.fill(draws),
        2 => given.low_mark = Some(levels.low_mark),
        _ => given.surplus = Some(surplus(draws)),
    }
    let rows = Arrangement::ALL.into_iter().filter(|row| {
        // The hours of `grid-only` have a rule already.
        let has_hours = row.wiring == Wiring::GridOnly && !row.night_tank;
        draws.chance(0.4) && !(part == 0 && has_hours)
    });
    RowRule {
        rows: rows.collect(),
        given,
    }
}

/// The hours as they were, two windows, or none given.
fn changed_hours(draws: &mut Draws, hours: Option<DayHours>) -> Option<DayHours> {
    let other = windows(draws);
    match draws.whole(0, 3) {
        0 => Some(other),
        1 => None,
        _ => hours,
    }
}

/// Two windows, at least an hour long and apart.
fn windows(draws: &mut Draws) -> DayHours {
    let first = draws.hour();
    let to = first + u8::try_from(draws.whole(1, 10)).unwrap_or(1);
    let second = to + u8::try_from(draws.whole(1, 4)).unwrap_or(1);
    let end = second + u8::try_from(draws.whole(1, 8)).unwrap_or(1);
    DayHours::between(first, to % 24).or(DayHours::between(second % 24, end % 24))
}

fn restart(draws: &mut Draws) -> Restart {
    let attended = if draws.chance(0.3) {
        DayHours::ALL
    } else {
        windows(draws)
    };
    let delay_s = draws.one_of(&[0.0, 60.0, 600.0, 5400.0, 20_000.0]);
    if draws.chance(0.4) {
        Restart::ByHand { attended, delay_s }
    } else {
        Restart::Automatic
    }
}

/// Whether a row has two windows, one fill level, one by hour, surplus, a low mark of its own, restart by hand, a share of
/// the sun, a battery.
fn keys(plant: &Plant, row: Arrangement) -> [bool; 8] {
    let rule = plant.written_rule(row);
    let levels: Vec<f64> = rule.fill.values().copied().collect();
    let alike = levels.iter().all(|level| level.to_bits() == levels[0].to_bits());
    let generator = plant.beside.generator.as_ref().filter(|_| row.generator);
    [
        rule.hours.windows().len() == 2,
        alike && levels[0] < 1.0,
        !alike,
        rule.surplus.is_some(),
        rule.low_mark.to_bits() != plant.tank.low_mark().to_bits(),
        matches!(plant.restart, Restart::ByHand { .. }),
        generator.is_some_and(|g| g.sun_share > 0.0),
        row.wiring == Wiring::BatteryHybrid,
    ]
}

#[test]
fn some_row_has_any_two_keys_together() {
    let parents = crate::made::parents();
    let plants = (0..36).map(|seed| crate::made::plant(seed, &parents));
    let rows =
        plants.flat_map(|plant| plant.arrangements().into_iter().map(move |row| keys(&plant, row)).collect::<Vec<_>>());
    let rows: Vec<[bool; 8]> = rows.collect();
    for i in 0..8 {
        for j in 0..i {
            let together = rows.iter().any(|keys| keys[i] && keys[j]);
            // One level for all hours and one for each hour exclude each other.
            assert_eq!(together, (i, j) != (2, 1), "keys {j} and {i}");
        }
    }
}
