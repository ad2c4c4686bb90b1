//! The pieces of the year, and the states of grid and changeover in each (§1, §10).

use daylift_grid::Interval;
use daylift_plant::{Plant, Wiring};
use daylift_units::{Axis, Hour, Month};

use super::plan::Plan;
use super::restart;

/// Edges closer than this are merged \[s\].
const HAIR_S: f64 = 1e-6;

/// State of a dual-mode plant.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Dual {
    /// On inverter and mains.
    Steady,
    /// The grid is lost; the drive does not run yet.
    ToDrive,
    /// On the drive; also during `grid_stable` after the grid's return.
    OnDrive,
    /// During `grid_stable`, after an outage that never started the drive.
    Observing,
    /// Off the drive and not yet on mains.
    ToMains,
}

/// A period in which everything except tank and battery is constant.
#[derive(Debug, Clone, Copy)]
pub(super) struct Piece {
    pub(super) start_s: f64,
    pub(super) end_s: f64,
    /// Step, for the sun.
    pub(super) step: usize,
    pub(super) month: Month,
    /// Civil day of the month.
    pub(super) day: u8,
    pub(super) hour: Hour,
    /// Civil hour of the step's middle.
    pub(super) middle_hour: Hour,
    pub(super) grid_down: bool,
    /// Time of the grid's last change; minus infinity if before the year.
    pub(super) since_s: f64,
    pub(super) dual: Dual,
    /// Time from which a dual-mode plant is steady.
    pub(super) steady_since_s: f64,
    /// Whether the starters on the bus are closed, where they are closed by hand.
    pub(super) starters_closed: bool,
}

impl Piece {
    pub(super) fn middle_s(&self) -> f64 {
        0.5 * (self.start_s + self.end_s)
    }

    pub(super) fn length_s(&self) -> f64 {
        self.end_s - self.start_s
    }
}

/// The changeover's states with their start times.
fn changeover(plant: &Plant, outages: &[Interval]) -> Vec<(f64, Dual)> {
    let times = plant.design.switch_times;
    let mut states = vec![(f64::NEG_INFINITY, Dual::Steady)];
    let mut observed_until_s = f64::NEG_INFINITY;
    let mut runs = false;
    for outage in outages {
        states.retain(|&(at_s, _)| at_s < outage.start_s);
        if runs && outage.start_s < observed_until_s {
            states.push((outage.start_s, Dual::OnDrive));
        } else {
            let on_drive_s = outage.start_s + times.to_drive_s;
            states.push((outage.start_s, Dual::ToDrive));
            runs = on_drive_s < outage.end_s;
            if runs {
                states.push((on_drive_s, Dual::OnDrive));
            }
        }
        observed_until_s = outage.end_s + times.grid_stable_s;
        states.push((outage.end_s, if runs { Dual::OnDrive } else { Dual::Observing }));
        states.push((observed_until_s, Dual::ToMains));
        states.push((observed_until_s + times.to_mains_s, Dual::Steady));
    }
    states
}

fn edges(plan: &Plan<'_, '_>, axis: &Axis, known: &Known<'_>) -> Vec<f64> {
    let year_s = axis.length_s();
    let feeders = &plan.plant().feeders;
    let mut edges: Vec<f64> = (0..=axis.steps()).map(|i| count(i) * axis.step_s()).collect();
    edges.extend(axis.civil_hours().iter().map(|h| h.start_s));
    edges.extend(known.closed.iter().map(|closed| closed.start_s));
    for outage in known.outages {
        edges.extend([outage.start_s, outage.end_s]);
        edges.extend(feeders.iter().map(|f| outage.end_s + f.reconnection_s));
        if let Some(generator) = plan.generator {
            edges.push(outage.start_s + generator.start_delay_s);
        }
    }
    if plan.wiring == Wiring::DualMode {
        for &(at_s, state) in &known.states {
            edges.push(at_s);
            if state == Dual::Steady {
                edges.extend(feeders.iter().map(|f| at_s + f.reconnection_s));
            }
        }
    }
    edges.retain(|at_s| (0.0..=year_s).contains(at_s));
    edges.sort_by(f64::total_cmp);
    edges.dedup_by(|a, b| *a - *b < HAIR_S);
    edges
}

#[expect(clippy::cast_precision_loss, reason = "steps of one year are exact in f64")]
fn count(i: usize) -> f64 {
    i as f64
}

/// What is known of the year before it is run.
struct Known<'a> {
    outages: &'a [Interval],
    /// States of the changeover with their start times.
    states: Vec<(f64, Dual)>,
    /// Periods in which the starters are closed.
    closed: Vec<Interval>,
}

/// The pieces of a year in order.
pub(super) fn pieces(plan: &Plan<'_, '_>, axis: &Axis) -> Vec<Piece> {
    let outages = plan.plant().grid.outages.intervals();
    let whole = Interval {
        start_s: 0.0,
        end_s: axis.length_s(),
    };
    let closed = plan.by_hand.map_or_else(
        || vec![whole],
        |by_hand| restart::closed(by_hand, outages, plan.generator, axis),
    );
    let known = Known {
        outages,
        states: changeover(plan.plant(), outages),
        closed,
    };
    let edges = edges(plan, axis, &known);
    edges.windows(2).map(|edge| piece(axis, &known, edge[0], edge[1])).collect()
}

/// The last interval that has begun at a time.
fn last_begun(intervals: &[Interval], at_s: f64) -> Option<Interval> {
    let begun = intervals.partition_point(|i| i.start_s <= at_s);
    begun.checked_sub(1).map(|i| intervals[i])
}

fn piece(axis: &Axis, known: &Known<'_>, start_s: f64, end_s: f64) -> Piece {
    let middle_s = 0.5 * (start_s + end_s);
    let civil = axis.civil_hours();
    let civil_at = |at_s: f64| civil[civil.partition_point(|h| h.start_s <= at_s).saturating_sub(1)];
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a step of the year"
    )]
    let step = (middle_s / axis.step_s()) as usize;
    let (grid_down, since_s) = match last_begun(known.outages, middle_s) {
        Some(outage) if middle_s < outage.end_s => (true, outage.start_s),
        Some(outage) => (false, outage.end_s),
        None => (false, f64::NEG_INFINITY),
    };
    let states = &known.states;
    let (state_since_s, dual) = states[states.partition_point(|s| s.0 <= middle_s).saturating_sub(1)];
    let now = civil_at(middle_s);
    Piece {
        start_s,
        end_s,
        step,
        month: now.month,
        day: now.day,
        hour: now.hour,
        middle_hour: civil_at((count(step) + 0.5) * axis.step_s()).hour,
        grid_down,
        since_s,
        dual,
        steady_since_s: state_since_s,
        starters_closed: last_begun(&known.closed, middle_s).is_some_and(|closed| middle_s < closed.end_s),
    }
}
