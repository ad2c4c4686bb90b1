//! One day of an arrangement, moment by moment, as the engine simulates it within the year.

mod choice;
mod moment;

use daylift_plant::{Arrangement, Plant};
use daylift_supply::{Piece, Recorder};
use daylift_units::constants::HOUR_S;
use daylift_units::{Axis, Month, Step};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::best_rule::{FindRules, find_or_held};
use crate::by_id::by_id;
use crate::memory::Memory;
use crate::picture::Picture;
use crate::stages::Stages;
use crate::traits::Traits;

pub use choice::{DayChoice, days_to_choose};
pub use moment::{ArrayOn, Moment, PumpOn};
use moment::{Level, moment};

/// The grid switched off or on during the day.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Switched {
    /// Time of the change, in s from the start of the civil day. It holds until the next change or the end of the day.
    pub at_s: f64,
    /// Whether the grid is on from then.
    pub utility: bool,
}

/// A day of an arrangement.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Day {
    /// The arrangement.
    #[serde(serialize_with = "by_id")]
    #[schemars(with = "String")]
    pub arrangement: Arrangement,
    /// What the arrangement has.
    pub traits: Traits,
    /// Day of the year, counted from 0.
    pub day: u32,
    /// Civil date, for example `2025-06-21`.
    pub date: String,
    /// Month, counted from 0.
    pub month: u8,
    /// Length, in s; a day on which the clock changes is shorter or longer.
    pub length_s: f64,
    /// Tank content at the start, in m³.
    pub tank_at_begin_m3: f64,
    /// Whether the day misses more than 1 % of its water demand.
    pub is_short: bool,
    /// Sizes and levels of the plant's parts, for a picture.
    pub picture: Picture,
    /// The moments of the day, in order and without gaps.
    pub moments: Vec<Moment>,
}

/// Start and end of each civil day, in s after the start of the year. A part of a day at either end of the year counts as
/// a day.
fn civil_days(axis: &Axis) -> Vec<(f64, f64)> {
    let hours = axis.civil_hours();
    let mut begins: Vec<f64> = hours.first().map(|hour| hour.start_s).into_iter().collect();
    begins.extend(hours.windows(2).filter(|pair| pair[0].day != pair[1].day).map(|pair| pair[1].start_s));
    let ends: Vec<f64> = begins.iter().skip(1).copied().chain([axis.length_s()]).collect();
    begins.into_iter().zip(ends).collect()
}

fn date_of(axis: &Axis, begin_s: f64) -> String {
    axis.civil_at(begin_s).date().to_string()
}

/// A day of an arrangement, with the grid switched as requested.
///
/// `None` for a day that the year does not have, and for an arrangement whose parts the plant lacks. The whole year is run
/// with the requested outages of that day, so that tank and battery start the day with their simulated content.
#[must_use]
pub fn day(plant: &Plant, arrangement: Arrangement, day: u32, switched: &[Switched], memory: &Memory) -> Option<Day> {
    if !plant.can_run(arrangement) {
        return None;
    }
    let axis = plant.site.axis.with_step(Step::TenMinutes);
    let (begin_s, end_s) = *civil_days(&axis).get(day as usize)?;
    // The rule of the year as it is: it does not change with the switches of one day.
    let rules = find_or_held(plant, Step::TenMinutes, &[arrangement], memory, FindRules::Held);
    let plant = with_switches(plant, begin_s, end_s, switched);
    let stages = Stages::for_rows(&plant, Step::TenMinutes, &[arrangement], memory).with_rules(rules);
    let mut trace = Trace::new(begin_s, end_s, axis.step_s());
    let year = stages.year(arrangement, &mut trace);
    let timetable = stages.timetable(arrangement);
    let route_at = |at_s: f64| {
        let spans = timetable.timeline.spans();
        let index = spans.partition_point(|span| span.start_s <= at_s).checked_sub(1)?;
        timetable.routes.get(spans[index].route)
    };
    let start = axis.civil_at(begin_s);
    let month = Month::of(start.date());
    let level = Level::of(&plant, month);
    let moments = trace
        .pieces
        .iter()
        .map(|(at_s, piece)| moment(*at_s - begin_s, piece, route_at(at_s + piece.length_s / 2.0), &level))
        .collect::<Vec<_>>();
    Some(Day {
        arrangement,
        traits: Traits::of(arrangement, plant.reference),
        day,
        date: date_of(&axis, begin_s),
        month: month.number() - 1,
        length_s: end_s - begin_s,
        picture: Picture::of(&plant, arrangement),
        tank_at_begin_m3: trace.tank_m3.unwrap_or(year.tank_start_m3),
        is_short: is_short(&moments),
        moments,
    })
}

/// Whether the moments of a day miss more than 1 % of their demand.
fn is_short(moments: &[Moment]) -> bool {
    let sum = |of: &dyn Fn(&Moment) -> f64| moments.iter().map(|m| of(m) * m.length_s / HOUR_S).sum();
    let shortfall_m3 = sum(&|m| m.demand_m3_h - m.delivered_m3_h);
    crate::shortage::is_short((sum(&|m| m.demand_m3_h), shortfall_m3))
}

/// The plant with the outages of the day replaced. A farm without a grid connection is not changed.
fn with_switches(plant: &Plant, begin_s: f64, end_s: f64, switched: &[Switched]) -> Plant {
    let mut plant = plant.clone();
    if !plant.grid.connected {
        return plant;
    }
    let mut events: Vec<(f64, bool)> = switched
        .iter()
        .map(|event| ((begin_s + event.at_s).clamp(begin_s, end_s), event.utility))
        .collect();
    events.sort_by(|a, b| a.0.total_cmp(&b.0));
    // Of several changes at the same instant, the last counts.
    events.reverse();
    events.dedup_by_key(|event| event.0);
    events.reverse();
    events.dedup_by_key(|event| event.1);
    let Some((first_s, _)) = events.first() else {
        return plant;
    };
    let mut outages = plant.grid.outages.switched(*first_s, end_s, false);
    let ends = events.iter().skip(1).map(|next| next.0).chain([end_s]);
    for ((from_s, utility), until_s) in events.iter().zip(ends) {
        if !utility && *from_s < until_s {
            outages = outages.switched(*from_s, until_s, true);
        }
    }
    plant.grid.outages = outages;
    plant
}

/// Records the pieces of one day.
struct Trace {
    begin_s: f64,
    end_s: f64,
    step_s: f64,
    step: Option<usize>,
    now_s: f64,
    /// Tank content at the end of the last piece before the day.
    tank_m3: Option<f64>,
    pieces: Vec<(f64, Piece)>,
}

/// Shorter pieces at the edges of the day come from rounding and are ignored \[s\].
const SHORTEST_S: f64 = 1e-3;

impl Trace {
    fn new(begin_s: f64, end_s: f64, step_s: f64) -> Self {
        Self {
            begin_s,
            end_s,
            step_s,
            step: None,
            now_s: 0.0,
            tank_m3: None,
            pieces: Vec::new(),
        }
    }
}

impl Recorder for Trace {
    fn piece(&mut self, step: usize, piece: &Piece) {
        if self.step != Some(step) {
            self.step = Some(step);
            // A sum of all earlier pieces would add up their rounding through the year.
            #[expect(clippy::cast_precision_loss, reason = "steps of one year")]
            let begin_s = step as f64 * self.step_s;
            self.now_s = begin_s;
        }
        let start_s = self.now_s;
        self.now_s += piece.length_s;
        if self.now_s <= self.begin_s + SHORTEST_S {
            self.tank_m3 = Some(piece.tank_m3);
        } else if start_s < self.end_s - SHORTEST_S {
            self.pieces.push((start_s, *piece));
        }
    }
}
