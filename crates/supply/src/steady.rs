//! How many steps may be settled together: as long as nothing changes in them but the sun, and no store reaches a mark.

use crate::flows::sun_runs;
use crate::offers::DriveYear;
use crate::route::PumpFeed;
use crate::settle::{Now, OnMains};
use crate::stream::{Bounded, Bounds, Steps};
use crate::tank::TankState;

/// Content is kept from a mark by this share of the way to it, so that rounding never carries it across.
const CLEARANCE: f64 = 1e-9;

impl Now<'_> {
    /// The steps from an instant on that go together: all of the span, or as many whole steps as are sure to reach no
    /// mark. `None` where there are not two, or where a choice of the plant may change from step to step.
    pub(crate) fn together(&self, tank: &TankState, on_mains: OnMains, at_s: f64) -> Option<Steps> {
        let grid = self.around.grid;
        if self.around.battery.is_some() {
            return None;
        }
        let all = Steps::between(at_s, self.span.end_s, [self.step, self.span.last as usize], grid);
        if all.is_one() || !self.has_one_choice(tank.wanting, on_mains, &all) {
            return None;
        }
        if on_mains == OnMains::HoldLowMark {
            return Some(all);
        }
        let stays_empty = tank.is_empty(self.around.tank);
        let pumped = self.pumped(tank.wanting, on_mains, |flow| flow.bounds(&all));
        if stays_empty && pumped.greatest <= self.around.demand_m3_s {
            return self.has_one_cause(&all).then_some(all);
        }
        let between = Marks::around(tank, self);
        let demand_m3_s = self.around.demand_m3_s;
        let change_m3 = |flow_m3_s: f64| (flow_m3_s - demand_m3_s) * all.length_s;
        if between.clear(change_m3(pumped.least).min(0.0)) && between.clear(change_m3(pumped.greatest).max(0.0)) {
            return Some(all);
        }
        self.as_many_as_stay(&between, tank.wanting, on_mains, at_s)
    }

    /// Whole steps from an instant on at whose ends the content is still between two marks.
    fn as_many_as_stay(&self, between: &Marks, wanting: bool, on_mains: OnMains, at_s: f64) -> Option<Steps> {
        let grid = self.around.grid;
        let (mut change_m3, mut from_s, mut stays) = (0.0, at_s, None);
        for step in self.step..=self.span.last as usize {
            let end_s = grid.end_s(step).min(self.span.end_s);
            let pumped_m3_s = self.pumped(wanting, on_mains, |flow| Bounds::always(flow.at(step))).least;
            change_m3 += (pumped_m3_s - self.around.demand_m3_s) * (end_s - from_s);
            if !between.clear(change_m3) {
                break;
            }
            from_s = end_s;
            stays = Some(step);
        }
        let stays = stays.filter(|&step| step > self.step)?;
        Some(Steps::between(at_s, from_s, [self.step, stays], grid))
    }

    /// Bounds of what all sets pump \[m³/s\]; `of` gives those of a drive's flow.
    fn pumped(&self, wanting: bool, on_mains: OnMains, of: impl Fn(&Bounded) -> Bounds) -> Bounds {
        let mut left_w = self.bus.for_pumps_w(self.around.sun_to_pump_first);
        let mut all = Bounds::always(0.0);
        for (feed, set) in self.route.sets.iter().zip(&self.around.offers.sets) {
            let drive = set.drive.as_ref().filter(|_| wanting);
            let by_drive = || drive.map_or(Bounds::always(0.0), |year| of(&year.flow_m3_s));
            let mut by_mains = || {
                let mains = &set.mains[usize::from(self.span.month) % 12];
                if on_mains.runs() && mains.bus_w() <= left_w {
                    left_w -= mains.bus_w();
                    Bounds::always(mains.flow_m3_s)
                } else {
                    Bounds::always(0.0)
                }
            };
            all = all.plus(match *feed {
                PumpFeed::Stands(_) => Bounds::always(0.0),
                PumpFeed::Mains => by_mains(),
                PumpFeed::Drive | PumpFeed::DriveAndMains { .. } => by_drive(),
                PumpFeed::DriveElseMains if !on_mains.runs() => by_drive(),
                // Either of them in all of these steps: whichever runs is the greater of a flow and nothing.
                PumpFeed::DriveElseMains => {
                    let alone = by_drive();
                    if alone.greatest > 0.0 { alone } else { by_mains() }
                }
            });
        }
        all
    }

    /// Whether a set on a drive takes part in this route.
    pub(crate) fn has_drives(&self) -> bool {
        self.route.sets.iter().any(|feed| !matches!(feed, PumpFeed::Mains | PumpFeed::Stands(_)))
    }

    /// Whether every set that may choose between drive and bus chooses the same in all of some steps.
    fn has_one_choice(&self, wanting: bool, on_mains: OnMains, steps: &Steps) -> bool {
        let mut sets = self.route.sets.iter().zip(&self.around.offers.sets);
        sets.all(|(feed, set)| match feed {
            PumpFeed::Stands(_) | PumpFeed::Mains | PumpFeed::Drive => true,
            PumpFeed::DriveAndMains { .. } => !on_mains.runs() || !wanting || set.with_mains.is_none(),
            PumpFeed::DriveElseMains => !on_mains.runs() || runs_alike(set.drive.as_ref(), steps),
        })
    }

    /// Whether one cause holds every set on its drive back in all of some steps.
    fn has_one_cause(&self, steps: &Steps) -> bool {
        let mut sets = self.route.sets.iter().zip(&self.around.offers.sets);
        sets.all(|(feed, set)| {
            let on_drive = !matches!(feed, PumpFeed::Stands(_) | PumpFeed::Mains);
            !on_drive || set.drive.as_ref().is_none_or(|year| year.held_back_by.is_one(steps))
        })
    }
}

/// Whether the sun runs a set in all of some steps or in none.
fn runs_alike(drive: Option<&DriveYear>, steps: &Steps) -> bool {
    drive.is_none_or(|year| {
        let flow = year.flow_m3_s.bounds(steps);
        if sun_runs(drive, steps) {
            flow.least > 0.0
        } else {
            flow.greatest <= 0.0
        }
    })
}

/// The nearest marks below and above a content, as changes of it \[m³\].
struct Marks {
    below_m3: f64,
    above_m3: f64,
}

impl Marks {
    fn around(tank: &TankState, now: &Now<'_>) -> Self {
        let of = |direction: f64| tank.next_mark(direction, now.around.tank);
        let to = |mark: Option<crate::tank::Mark>| mark.map(|m| m.content_m3 - tank.content_m3);
        Self {
            below_m3: to(of(-1.0)).unwrap_or(0.0) * (1.0 - CLEARANCE),
            above_m3: to(of(1.0)).unwrap_or(0.0) * (1.0 - CLEARANCE),
        }
    }

    /// Whether a change of the content leaves it between them.
    fn clear(&self, change_m3: f64) -> bool {
        // Where there is no mark ahead, the tank is full or empty, and the content may not go that way at all.
        change_m3 >= self.below_m3.min(0.0) && change_m3 <= self.above_m3.max(0.0)
    }
}
