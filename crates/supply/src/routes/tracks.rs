//! States that change independently of each other, and the routes that their combinations make.

use daylift_grid::Outages;

use super::ScheduleInputs;
use crate::route::{Route, Schedule};
use crate::timeline::Phase;

/// The utility is there.
pub(super) const UP: u16 = 0;
/// The utility is away.
pub(super) const DOWN: u16 = 1;

/// An inverter feeds as far as the plant lets it.
pub(super) const READY: u16 = 0;
/// An inverter waits before feeding.
pub(super) const WAITING: u16 = 1;

/// A state through the year: phases written one after another; a later one overrides what an earlier one had beyond its
/// begin.
#[derive(Debug, Clone)]
pub(super) struct Track(Vec<Phase>);

impl Track {
    /// Begins in a state.
    pub(super) fn beginning(state: u16) -> Self {
        Self(vec![Phase {
            start_s: 0.0,
            route: state,
        }])
    }

    /// From `start_s` on, `state`; a phase that would begin at or after `start_s` is dropped.
    pub(super) fn from(&mut self, start_s: f64, state: u16) {
        while self.0.last().is_some_and(|last| last.start_s >= start_s) {
            self.0.pop();
        }
        if self.0.last().is_none_or(|last| last.route != state) {
            self.0.push(Phase { start_s, route: state });
        }
    }

    /// The phases of a schedule as a track.
    pub(super) fn of_phases(phases: &[Phase]) -> Self {
        Self(phases.to_vec())
    }

    /// [`UP`] and [`DOWN`] as the utility is.
    pub(super) fn of_utility(outages: &Outages) -> Self {
        let mut track = Self::beginning(UP);
        for outage in outages.intervals() {
            track.from(outage.start_s, DOWN);
            track.from(outage.end_s, UP);
        }
        track
    }

    /// [`WAITING`] for `wait_s` from each of some instants in order, else [`READY`].
    pub(super) fn of_waits(from_s: impl IntoIterator<Item = f64>, wait_s: f64) -> Self {
        let mut track = Self::beginning(READY);
        for start_s in from_s {
            track.from(start_s, WAITING);
            track.from(start_s + wait_s, READY);
        }
        track
    }

    #[cfg(test)]
    pub(super) fn states(&self) -> Vec<(f64, u16)> {
        self.0.iter().map(|p| (p.start_s, p.route)).collect()
    }
}

/// A schedule whose route at any instant is made of the states of all tracks there, in their order.
pub(super) fn weave(tracks: &[Track], route: impl Fn(&[u16]) -> Route) -> Schedule {
    let mut edges_s: Vec<f64> = tracks.iter().flat_map(|t| t.0.iter().map(|p| p.start_s)).collect();
    edges_s.sort_by(f64::total_cmp);
    edges_s.dedup();
    let mut at = vec![0; tracks.len()];
    let mut known: Vec<(Vec<u16>, u16)> = Vec::new();
    let (mut routes, mut phases): (Vec<Route>, Vec<Phase>) = (Vec::new(), Vec::new());
    for start_s in edges_s {
        let state_at = |(track, at): (&Track, &mut usize)| {
            while track.0.get(*at + 1).is_some_and(|next| next.start_s <= start_s) {
                *at += 1;
            }
            track.0[*at].route
        };
        let states: Vec<u16> = tracks.iter().zip(&mut at).map(state_at).collect();
        let index = known.iter().find(|(s, _)| *s == states).map(|(_, index)| *index).unwrap_or_else(|| {
            let made = route(&states);
            // Different states that make the same route are one.
            let same = routes.iter().position(|r| *r == made);
            let index = same.unwrap_or_else(|| {
                routes.push(made);
                routes.len() - 1
            });
            let index = u16::try_from(index).unwrap_or(u16::MAX);
            known.push((states, index));
            index
        });
        if phases.last().is_none_or(|last| last.route != index) {
            phases.push(Phase { start_s, route: index });
        }
    }
    Schedule { routes, phases }
}

/// A track for each inverter: it waits from each of the instants that `returns_s` gives for it.
pub(super) fn inverter_tracks<I: IntoIterator<Item = f64>>(
    inputs: &ScheduleInputs<'_>,
    returns_s: impl Fn(usize) -> I,
) -> Vec<Track> {
    let waits = inputs.reconnection_s.iter().enumerate();
    waits.map(|(i, wait_s)| Track::of_waits(returns_s(i), *wait_s)).collect()
}
