//! How many steps may be settled together: as long as nothing but the sun changes in them, and no store reaches a mark.

use crate::now::{Now, OnMains};
use crate::offers::SetOffers;
use crate::route::PumpFeed;
use crate::stream::{Bounded, Bounds, Steps};
use crate::tank::TankState;

/// The content stops this fraction of the distance short of a mark, so that rounding never moves it across.
const CLEARANCE: f64 = 1e-9;

impl Now<'_> {
    /// The steps from an instant on that are settled together: to the end of the span or to the next mark. `None` if there
    /// are fewer than two, or if the plant may choose differently from step to step.
    pub(crate) fn together(&self, tank: &TankState, on_mains: OnMains, at_s: f64) -> Option<Stretch> {
        let grid = self.around.grid;
        if self.around.battery.is_some() {
            return None;
        }
        let all = Steps::between(at_s, self.span.end_s, [self.step, self.span.last as usize], grid);
        if all.is_one() || !self.has_one_choice(tank.wanting, on_mains, &all) {
            return None;
        }
        let whole = Stretch {
            steps: all,
            end_s: self.span.end_s,
            reaches_m3: None,
        };
        if on_mains == OnMains::HoldLowMark {
            return Some(whole);
        }
        let stays_empty = tank.is_empty(&self.around.levels);
        let pumped = self.pumped(tank.wanting, on_mains, |flow| flow.bounds(&all));
        if stays_empty && pumped.greatest <= self.around.demand_m3_s {
            return self.has_one_cause(&all).then_some(whole);
        }
        let between = Marks::around(tank, self);
        let demand_m3_s = self.around.demand_m3_s;
        let change_m3 = |flow_m3_s: f64| (flow_m3_s - demand_m3_s) * all.length_s;
        if between.clear(change_m3(pumped.least).min(0.0)) && between.clear(change_m3(pumped.greatest).max(0.0)) {
            return Some(whole);
        }
        let changes = pumped.least < pumped.greatest;
        self.as_many_as_stay(&between, at_s, |step| {
            if changes {
                self.pumped(tank.wanting, on_mains, |flow| Bounds::always(flow.at(step))).least
            } else {
                pumped.least
            }
        })
    }

    /// The steps from an instant on until the content reaches the next mark, with the flow pumped in each step. If rounding
    /// decides whether a step reaches the mark, that step is left out and settled separately.
    fn as_many_as_stay(&self, between: &Marks, at_s: f64, pumped_m3_s: impl Fn(usize) -> f64) -> Option<Stretch> {
        let grid = self.around.grid;
        let (mut change_m3, mut from_s) = (0.0, at_s);
        let mut stays = None;
        for step in self.step..=self.span.last as usize {
            let end_s = grid.end_s(step).min(self.span.end_s);
            let net_m3_s = pumped_m3_s(step) - self.around.demand_m3_s;
            let next_m3 = change_m3 + net_m3_s * (end_s - from_s);
            if between.clear(next_m3) {
                (change_m3, from_s, stays) = (next_m3, end_s, Some(step));
                continue;
            }
            if let Some(mark) = between.ahead(net_m3_s) {
                let after_s = (mark.change_m3 - change_m3) / net_m3_s;
                if step > self.step && after_s > 0.0 && from_s + after_s < end_s {
                    return Some(Stretch {
                        steps: Steps::ending_in(at_s, after_s, [self.step, step], grid),
                        end_s: from_s + after_s,
                        reaches_m3: Some(mark.content_m3),
                    });
                }
            }
            break;
        }
        let stays = stays.filter(|&step| step > self.step)?;
        Some(Stretch {
            steps: Steps::between(at_s, from_s, [self.step, stays], grid),
            end_s: from_s,
            reaches_m3: None,
        })
    }

    /// Bounds of the flow of all sets \[m³/s\]; `of` gives those of a drive's flow.
    fn pumped(&self, wanting: bool, on_mains: OnMains, of: impl Fn(&Bounded) -> Bounds) -> Bounds {
        let mut left_w = self.bus.for_pumps_w(self.around.sun_to_pump_first);
        // The same sets run on surplus in all of these steps.
        let (spare, mut taken_w) = (self.spare(on_mains, self.step), 0.0);
        let mut all = Bounds::always(0.0);
        for (feed, set) in self.route.sets.iter().zip(&self.around.offers.sets) {
            let drive = set.drive.as_ref().filter(|_| wanting);
            let by_drive = || drive.map_or(Bounds::always(0.0), |year| of(&year.flow_m3_s));
            let mut by_mains = || {
                let mains = &set.mains[self.span.month];
                let with_w = taken_w + mains.bus_w();
                let may = spare.map_or(on_mains.runs(), |spare| spare.carries(with_w));
                (may && mains.bus_w() <= left_w).then(|| {
                    left_w -= mains.bus_w();
                    taken_w = with_w;
                    Bounds::always(mains.flow_m3_s)
                })
            };
            all = all.plus(match *feed {
                PumpFeed::Stopped(_) => Bounds::always(0.0),
                PumpFeed::Mains => by_mains().unwrap_or(Bounds::always(0.0)),
                PumpFeed::Drive | PumpFeed::DriveAndMains { .. } => by_drive(),
                PumpFeed::DriveElseMains if !on_mains.runs() => by_drive(),
                // One of the two runs in all of these steps. On a source that is too small it is the drive.
                PumpFeed::DriveElseMains if self.bus_replaces_sun(set, self.step) => {
                    by_mains().unwrap_or_else(by_drive)
                }
                PumpFeed::DriveElseMains => by_drive(),
            });
        }
        all
    }

    /// Whether every set that may choose between drive and bus, or that may run on surplus, makes the same choice in all of
    /// these steps.
    fn has_one_choice(&self, wanting: bool, on_mains: OnMains, steps: &Steps) -> bool {
        if on_mains == OnMains::OnSurplus && !self.surplus_is_alike(steps) {
            return false;
        }
        let mut sets = self.route.sets.iter().zip(&self.around.offers.sets);
        sets.all(|(feed, set)| match feed {
            PumpFeed::Stopped(_) | PumpFeed::Mains | PumpFeed::Drive => true,
            PumpFeed::DriveAndMains { .. } => !on_mains.runs() || !wanting || set.with_mains.is_none(),
            PumpFeed::DriveElseMains => !on_mains.runs() || self.runs_alike(set, steps),
        })
    }

    /// Whether the sun alone gives a set enough flow in all of these steps or in none.
    fn runs_alike(&self, set: &SetOffers, steps: &Steps) -> bool {
        set.drive.as_ref().is_none_or(|year| {
            let flow = year.flow_m3_s.bounds(steps);
            self.is_enough(set, flow.least) == self.is_enough(set, flow.greatest)
        })
    }

    /// Whether every set on its drive is held back by one cause in all of these steps.
    fn has_one_cause(&self, steps: &Steps) -> bool {
        let mut sets = self.route.sets.iter().zip(&self.around.offers.sets);
        sets.all(|(feed, set)| {
            let on_drive = !matches!(feed, PumpFeed::Stopped(_) | PumpFeed::Mains);
            !on_drive || set.drive.as_ref().is_none_or(|year| year.held_back_by.is_one(steps))
        })
    }
}

/// Steps that are settled as one.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Stretch {
    pub(crate) steps: Steps,
    /// Where they end \[s after the start of the year\].
    pub(crate) end_s: f64,
    /// The tank's mark at their end \[m³\]; with several steps and `None`, they reach no mark.
    pub(crate) reaches_m3: Option<f64>,
}

impl Stretch {
    /// A step, or a part of it.
    pub(crate) fn of_one(step: usize, from_s: f64, end_s: f64) -> Self {
        Self {
            steps: Steps::one(step, end_s - from_s),
            end_s,
            reaches_m3: None,
        }
    }
}

/// The nearest marks below and above a content at which something may change. `None` means that the tank is full or empty,
/// so that the content cannot change in that direction.
struct Marks {
    below: Option<Ahead>,
    above: Option<Ahead>,
}

/// A mark ahead.
#[derive(Clone, Copy)]
struct Ahead {
    content_m3: f64,
    /// Change of the content up to it \[m³\].
    change_m3: f64,
}

impl Marks {
    fn around(tank: &TankState, now: &Now<'_>) -> Self {
        let low_counts = now.bus.is_live() && !now.is_open(tank);
        let [below_m3, above_m3] = tank.marks_around(&now.around.levels, low_counts);
        let ahead = |content_m3: f64| Ahead {
            content_m3,
            change_m3: content_m3 - tank.content_m3,
        };
        Self {
            below: below_m3.map(ahead),
            above: above_m3.map(ahead),
        }
    }

    /// Whether the content stays between the marks after a change.
    fn clear(&self, change_m3: f64) -> bool {
        let kept = |ahead: Option<Ahead>| ahead.map_or(0.0, |a| a.change_m3 * (1.0 - CLEARANCE));
        change_m3 >= kept(self.below) && change_m3 <= kept(self.above)
    }

    /// The mark ahead for a net flow into the tank.
    fn ahead(&self, net_m3_s: f64) -> Option<Ahead> {
        if net_m3_s > 0.0 { self.above } else { self.below }
    }
}
