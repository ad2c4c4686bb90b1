//! States that change independently of each other, and the routes that their combinations make.

use daylift_grid::Outages;
use daylift_plant::{ByInverter, InverterId};
use typed_index_collections::TiVec;

use super::inputs::ScheduleInputs;
use crate::cause::LossCause;
use crate::route::{ArrayFeed, Phase, Route, RouteId, Schedule};

/// Whether the utility is on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Utility {
    On,
    Down,
}

/// Whether a device has waited long enough to take part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Wait {
    /// It takes part as far as the plant allows.
    Ready,
    /// It waits.
    Waiting,
}

impl Wait {
    /// Where the power of a group goes, if its inverter feeds after its wait.
    pub(super) fn feeding(self) -> ArrayFeed {
        match self {
            Self::Ready => ArrayFeed::Bus,
            Self::Waiting => ArrayFeed::Idle(LossCause::WaitingToReconnect),
        }
    }
}

/// A state through the year: a list of states, each with its start \[s after the start of the year\].
#[derive(Debug, Clone)]
pub(super) struct Track<S> {
    states: Vec<(f64, S)>,
    /// Index of the state that was last asked for.
    at: usize,
}

impl<S: Copy + PartialEq> Track<S> {
    fn of(states: Vec<(f64, S)>) -> Self {
        Self { states, at: 0 }
    }

    /// A track that starts in a state.
    pub(super) fn beginning(state: S) -> Self {
        Self::of(vec![(0.0, state)])
    }

    /// Sets `state` from `start_s` on. States that were to start at or after `start_s` are dropped.
    pub(super) fn from(&mut self, start_s: f64, state: S) {
        while self.states.last().is_some_and(|last| last.0 >= start_s) {
            self.states.pop();
        }
        if self.states.last().is_none_or(|last| last.1 != state) {
            self.states.push((start_s, state));
        }
    }

    #[cfg(test)]
    pub(super) fn states(&self) -> &[(f64, S)] {
        &self.states
    }
}

impl Track<RouteId> {
    /// The phases of a schedule as a track.
    pub(super) fn of_phases(phases: &[Phase]) -> Self {
        Self::of(phases.iter().map(|phase| (phase.start_s, phase.route)).collect())
    }
}

impl Track<Utility> {
    /// The state of the utility.
    pub(super) fn of_utility(outages: &Outages) -> Self {
        let mut track = Self::beginning(Utility::On);
        for outage in outages.intervals() {
            track.from(outage.start_s, Utility::Down);
            track.from(outage.end_s, Utility::On);
        }
        track
    }
}

impl Track<Wait> {
    /// Waiting for `wait_s` from each of some instants, in order, and ready otherwise.
    pub(super) fn of_waits(from_s: impl IntoIterator<Item = f64>, wait_s: f64) -> Self {
        let mut track = Self::beginning(Wait::Ready);
        for start_s in from_s {
            track.from(start_s, Wait::Waiting);
            track.from(start_s + wait_s, Wait::Ready);
        }
        track
    }

    /// One track for each inverter, which waits from each of the instants that `returns_s` gives for it.
    pub(super) fn of_inverters<I: IntoIterator<Item = f64>>(
        inputs: &ScheduleInputs<'_>,
        returns_s: impl Fn(InverterId) -> I,
    ) -> ByInverter<Self> {
        let waits = inputs.reconnection_s.iter_enumerated();
        waits.map(|(i, wait_s)| Self::of_waits(returns_s(i), *wait_s)).collect()
    }
}

/// Something with a state at every instant of the year: a track, several of the same kind, or two of different kinds.
pub(super) trait Changing {
    /// Its state, or the states of all its parts.
    type State: PartialEq;

    /// Lists the instants at which it changes \[s after the start of the year\].
    fn edges_s(&self, edges_s: &mut Vec<f64>);

    /// Its state at an instant. Instants must be asked for in order.
    fn at(&mut self, at_s: f64) -> Self::State;
}

impl<S: Copy + PartialEq> Changing for Track<S> {
    type State = S;

    fn edges_s(&self, edges_s: &mut Vec<f64>) {
        edges_s.extend(self.states.iter().map(|(start_s, _)| *start_s));
    }

    fn at(&mut self, at_s: f64) -> S {
        while self.states.get(self.at + 1).is_some_and(|next| next.0 <= at_s) {
            self.at += 1;
        }
        self.states[self.at].1
    }
}

impl<K, T: Changing> Changing for TiVec<K, T> {
    type State = TiVec<K, T::State>;

    fn edges_s(&self, edges_s: &mut Vec<f64>) {
        self.iter().for_each(|track| track.edges_s(edges_s));
    }

    fn at(&mut self, at_s: f64) -> Self::State {
        self.iter_mut().map(|track| track.at(at_s)).collect()
    }
}

impl<A: Changing, B: Changing> Changing for (A, B) {
    type State = (A::State, B::State);

    fn edges_s(&self, edges_s: &mut Vec<f64>) {
        self.0.edges_s(edges_s);
        self.1.edges_s(edges_s);
    }

    fn at(&mut self, at_s: f64) -> Self::State {
        (self.0.at(at_s), self.1.at(at_s))
    }
}

/// Combines tracks into a schedule: the route at any instant is made from the states of all tracks at that instant.
pub(super) fn combine<T: Changing>(mut tracks: T, route: impl Fn(&T::State) -> Route) -> Schedule {
    let mut edges_s = Vec::new();
    tracks.edges_s(&mut edges_s);
    edges_s.sort_by(f64::total_cmp);
    edges_s.dedup();
    let mut known: Vec<(T::State, RouteId)> = Vec::new();
    let (mut routes, mut phases): (TiVec<RouteId, Route>, Vec<Phase>) = (TiVec::new(), Vec::new());
    for start_s in edges_s {
        let state = tracks.at(start_s);
        let id = known.iter().find(|(s, _)| *s == state).map(|(_, id)| *id).unwrap_or_else(|| {
            let made = route(&state);
            // Different states may make the same route: it is kept once.
            let same = routes.position(|r| *r == made);
            let id = same.unwrap_or_else(|| routes.push_and_get_key(made));
            known.push((state, id));
            id
        });
        if phases.last().is_none_or(|last| last.route != id) {
            phases.push(Phase { start_s, route: id });
        }
    }
    Schedule { routes, phases }
}
