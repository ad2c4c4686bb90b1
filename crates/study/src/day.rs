//! One day of an arrangement, instant by instant, as the engine runs it within its year.

use daylift_plant::{Arrangement, Plant};
use daylift_supply::route::{ArrayFeed, PumpFeed, Route};
use daylift_supply::{DcYear, LossCause, Piece, Recorder};
use daylift_units::constants::{DAY_S, HOUR_S, KWH_J};
use daylift_units::{Axis, Step};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::memory::Memory;
use crate::picture::Picture;
use crate::stages::Stages;

/// Share of the days that have less sun than a poor day.
const POOR: f64 = 0.1;
const KW: f64 = 1e-3;
const M3_H: f64 = HOUR_S;

/// The utility switched off or on during the day.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Switched {
    /// From when on, in s from the begin of the civil day; it holds until the next, or until the day ends.
    pub at_s: f64,
    /// Whether the utility is there.
    pub utility: bool,
}

/// A day of an arrangement.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Day {
    /// The arrangement.
    pub arrangement: String,
    /// Day of the year, counted from 0.
    pub day: u32,
    /// Civil date, `2025-06-21`.
    pub date: String,
    /// Month, counted from 0.
    pub month: u8,
    /// Length, in s; a day on which the clock changes is shorter or longer.
    pub length_s: f64,
    /// Tank content at the begin, in m³.
    pub tank_at_begin_m3: f64,
    /// What stands where.
    pub picture: Picture,
    /// What flows, in order and without gaps.
    pub moments: Vec<Moment>,
}

/// Where the array is switched.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum ArrayOn {
    /// All that is switched feeds inverters.
    Inverter,
    /// All that is switched feeds drives.
    Drive,
    /// Some groups feed inverters, others drives.
    Both,
    /// Nothing, or no array.
    Neither,
}

/// What turns the pump.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum PumpOn {
    /// It stands.
    Nothing,
    /// The bus.
    Bus,
    /// A drive.
    Drive,
    /// Some sets the bus, others a drive.
    Both,
}

/// A stretch of the day in which nothing changes. Powers in kW, energies in kWh, flows in m³/h, volumes in m³.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Moment {
    /// Begin, in s from the begin of the day.
    pub start_s: f64,
    /// Length, in s.
    pub length_s: f64,
    /// Whether the utility is there.
    pub utility: bool,
    /// Where the array is switched.
    pub array_on: ArrayOn,
    /// What turns the pump.
    pub pump_on: PumpOn,
    /// Power at the maximum-power point.
    pub available_kw: f64,
    /// Array power at the motor's terminals.
    pub array_to_pump_kw: f64,
    /// Array power to the loads.
    pub array_to_loads_kw: f64,
    /// Array power into the battery.
    pub array_to_battery_kw: f64,
    /// Array power exported.
    pub exported_kw: f64,
    /// Array power lost.
    pub lost_kw: f64,
    /// The cause that loses most; null when nothing is lost.
    pub main_loss: Option<String>,
    /// Taken from the utility.
    pub imported_kw: f64,
    /// Grid power at the motor's terminals.
    pub grid_to_pump_kw: f64,
    /// Grid power to the loads.
    pub grid_to_loads_kw: f64,
    /// At the battery's terminals: out of it above 0, into it below.
    pub battery_kw: f64,
    /// Battery power at the motor's terminals.
    pub battery_to_pump_kw: f64,
    /// Battery power to the loads.
    pub battery_to_loads_kw: f64,
    /// Battery content at the end.
    pub battery_kwh: f64,
    /// Made by the generating set.
    pub generator_kw: f64,
    /// Of that, at the motor's terminals.
    pub generator_to_pump_kw: f64,
    /// Of that, to the loads.
    pub generator_to_loads_kw: f64,
    /// Wanted by the loads.
    pub load_kw: f64,
    /// Not served.
    pub unserved_kw: f64,
    /// Pumped.
    pub pumped_m3_h: f64,
    /// Wanted by the farm.
    pub demand_m3_h: f64,
    /// Delivered to the farm.
    pub delivered_m3_h: f64,
    /// Tank content at the end.
    pub tank_m3: f64,
    /// Frequency of the drive, in Hz; 0 when it stands.
    pub hz: f64,
    /// Water level in the well below the well head, in m; null with several pump sets.
    pub level_m: Option<f64>,
}

/// A day chosen from the year, and why.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct DayChoice {
    /// `clear`, `mean` or `poor`.
    pub kind: String,
    /// Day of the year, counted from 0.
    pub day: u32,
    /// Civil date.
    pub date: String,
    /// What it was chosen for.
    pub reason: String,
}

/// The civil days of a year: begin and end of each, in s after the start of the year. A part of a day at either end of the
/// year counts as one.
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

/// A clear, a mean and a poor day of the array, chosen from the year; none without an array.
#[must_use]
pub fn days_to_choose(stages: &Stages<'_>) -> Vec<DayChoice> {
    let Some(dc) = &stages.dc else { return Vec::new() };
    let axis = &stages.axis;
    let days = civil_days(axis);
    let mut ranked: Vec<(usize, f64)> = array_by_day_kwh(dc, axis, &days).into_iter().enumerate().collect();
    // Parts of days at the ends of the year would pass for poor ones.
    ranked.retain(|(day, _)| days[*day].1 - days[*day].0 > 0.9 * DAY_S);
    ranked.sort_by(|a, b| a.1.total_cmp(&b.1));
    let count = ranked.len();
    if count == 0 {
        return Vec::new();
    }
    #[expect(clippy::cast_precision_loss, reason = "some hundred days")]
    let mean = ranked.iter().map(|(_, kwh)| kwh).sum::<f64>() / count as f64;
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        clippy::cast_precision_loss,
        reason = "a share of some hundred days"
    )]
    let poor = (POOR * count as f64) as usize;
    let off = |day: &&(usize, f64)| (day.1 - mean).abs();
    let nearest = ranked.iter().min_by(|a, b| off(a).total_cmp(&off(b))).unwrap_or(&ranked[0]);
    let choice = |kind: &str, (day, kwh): (usize, f64), reason: String| DayChoice {
        kind: kind.to_owned(),
        day: u32::try_from(day).unwrap_or(u32::MAX),
        date: date_of(axis, days[day].0),
        reason: format!("{kwh:.0} kWh from the array: {reason}"),
    };
    vec![
        choice("clear", ranked[count - 1], "the most of the year".to_owned()),
        choice("mean", *nearest, format!("nearest to the year's mean, {mean:.0} kWh")),
        choice("poor", ranked[poor], "one day in ten has less".to_owned()),
    ]
}

fn array_by_day_kwh(dc: &DcYear, axis: &Axis, days: &[(f64, f64)]) -> Vec<f64> {
    let mut sums = vec![0.0; days.len()];
    let mut day = 0;
    let mut middle_s = axis.step_s() / 2.0;
    for step in 0..axis.steps() {
        while day + 1 < days.len() && middle_s >= days[day].1 {
            day += 1;
        }
        let power_w: f64 = dc.groups.iter().map(|group| group.available_w.at(step)).sum();
        sums[day] += power_w * axis.step_s() / KWH_J;
        middle_s += axis.step_s();
    }
    sums
}

/// A day of an arrangement, with the utility switched as asked; `None` for a day that the year does not have and for an
/// arrangement that the plant lacks the parts for.
///
/// The whole year is run with that day's outages, so that tank and battery come to the day as they would.
#[must_use]
pub fn day(plant: &Plant, arrangement: Arrangement, day: u32, switched: &[Switched], memory: &Memory) -> Option<Day> {
    if !plant.arrangements().contains(&arrangement) {
        return None;
    }
    let axis = plant.site.axis.with_step(Step::TenMinutes);
    let (begin_s, end_s) = *civil_days(&axis).get(day as usize)?;
    let plant = with_switches(plant, begin_s, end_s, switched);
    let stages = Stages::for_rows(&plant, Step::TenMinutes, &[arrangement], memory);
    let mut trace = Trace::new(begin_s, end_s, axis.step_s());
    let year = stages.year(arrangement, &mut trace);
    let timetable = stages.timetable(arrangement);
    let route_at = |at_s: f64| {
        let spans = timetable.timeline.spans();
        let index = spans.partition_point(|span| span.start_s <= at_s).checked_sub(1)?;
        timetable.routes.get(usize::from(spans[index].route))
    };
    let start = axis.civil_at(begin_s);
    let month = start.month().unsigned_abs() - 1;
    let level = Level::of(&plant, month);
    let moments = trace
        .pieces
        .iter()
        .map(|(at_s, piece)| moment(*at_s - begin_s, piece, route_at(at_s + piece.length_s / 2.0), &level))
        .collect();
    Some(Day {
        arrangement: arrangement.id().to_owned(),
        day,
        date: date_of(&axis, begin_s),
        month,
        length_s: end_s - begin_s,
        picture: Picture::of(&plant, arrangement),
        tank_at_begin_m3: trace.tank_m3.unwrap_or(year.tank_start_m3),
        moments,
    })
}

/// The plant with its outages of the day switched. A farm without a utility stays without.
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
    // Of several at one instant the last holds.
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

/// Keeps the pieces of one day.
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

/// Pieces shorter than this are left over by rounding at the day's edges \[s\].
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
            // Not the sum of all pieces before: their rounding would grow through the year.
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

/// The water level of the one well that a plant has.
struct Level<'a> {
    well: Option<&'a daylift_lift::Well>,
    month: u8,
}

impl<'a> Level<'a> {
    fn of(plant: &'a Plant, month: u8) -> Self {
        let well = match &plant.sets[..] {
            [only] => Some(only.pump_set.system().well()),
            _ => None,
        };
        Self { well, month }
    }

    fn below_m(&self, flow_m3_s: f64) -> Option<f64> {
        let month = usize::from(self.month);
        self.well.map(|well| well.static_level_m(month) + well.drawdown_m(flow_m3_s))
    }
}

fn moment(start_s: f64, piece: &Piece, route: Option<&Route>, level: &Level<'_>) -> Moment {
    let lost_w: f64 = piece.lost_w.iter().sum();
    let main_loss = LossCause::ALL
        .into_iter()
        .filter(|cause| piece.lost_w[cause.index()] > 0.0)
        .max_by(|a, b| piece.lost_w[a.index()].total_cmp(&piece.lost_w[b.index()]));
    // Within a piece in which a full tank lets the pump run for a share of the time, flow is its mean.
    let flow_m3_s = if piece.pumping > 0.0 {
        piece.pumped_m3_s / piece.pumping
    } else {
        0.0
    };
    Moment {
        start_s,
        length_s: piece.length_s,
        utility: piece.utility,
        array_on: route.map_or(ArrayOn::Neither, array_on),
        pump_on: route.map_or(PumpOn::Nothing, |route| pump_on(route, piece)),
        available_kw: piece.available_w * KW,
        array_to_pump_kw: piece.array_to_pump_w * KW,
        array_to_loads_kw: piece.array_to_loads_w * KW,
        array_to_battery_kw: piece.array_to_battery_w * KW,
        exported_kw: piece.exported_w * KW,
        lost_kw: lost_w * KW,
        main_loss: main_loss.map(|cause| cause.id().to_owned()),
        imported_kw: piece.grid.given_w * KW,
        grid_to_pump_kw: piece.grid.to_pump_w * KW,
        grid_to_loads_kw: piece.grid.to_loads_w * KW,
        battery_kw: -piece.battery_flow().net_w() * KW,
        battery_to_pump_kw: piece.battery.to_pump_w * KW,
        battery_to_loads_kw: piece.battery.to_loads_w * KW,
        battery_kwh: piece.battery_j / KWH_J,
        generator_kw: piece.generator.given_w * KW,
        generator_to_pump_kw: piece.generator.to_pump_w * KW,
        generator_to_loads_kw: piece.generator.to_loads_w * KW,
        load_kw: piece.load_w * KW,
        unserved_kw: piece.unserved_w * KW,
        pumped_m3_h: piece.pumped_m3_s * M3_H,
        demand_m3_h: piece.demand_m3_s * M3_H,
        delivered_m3_h: piece.delivered_m3_s * M3_H,
        tank_m3: piece.tank_m3,
        hz: piece.hz,
        level_m: level.below_m(flow_m3_s),
    }
}

fn array_on(route: &Route) -> ArrayOn {
    let bus = route.groups.contains(&ArrayFeed::Bus);
    let drive = route.groups.contains(&ArrayFeed::Drive);
    match (bus, drive) {
        (true, true) => ArrayOn::Both,
        (true, false) => ArrayOn::Inverter,
        (false, true) => ArrayOn::Drive,
        (false, false) => ArrayOn::Neither,
    }
}

fn pump_on(route: &Route, piece: &Piece) -> PumpOn {
    if piece.pumped_m3_s <= 0.0 {
        return PumpOn::Nothing;
    }
    let on_drive = |feed: &PumpFeed| match feed {
        PumpFeed::Drive | PumpFeed::DriveAndMains { .. } => Some(true),
        PumpFeed::DriveElseMains => Some(piece.hz > 0.0),
        PumpFeed::Mains => Some(false),
        PumpFeed::Stands(_) => None,
    };
    let drive = route.sets.iter().filter_map(on_drive).any(|is| is);
    let bus = route.sets.iter().filter_map(on_drive).any(|is| !is);
    match (bus, drive) {
        (true, true) => PumpOn::Both,
        (true, false) => PumpOn::Bus,
        (false, true) => PumpOn::Drive,
        (false, false) => PumpOn::Nothing,
    }
}
