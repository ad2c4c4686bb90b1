//! The flows of a piece: the sets on their drives and on the bus, then the bus itself.

use std::sync::Arc;

use crate::bus::bus_side;
use crate::cause::{LossCause, ShortfallCause};
use crate::flow::Flow;
use crate::now::{Now, OnMains};
use crate::offers::{DriveYear, Mains, SetOffers};
use crate::piece::Piece;
use crate::route::{ArrayFeed, PumpFeed};
use crate::starts::Motors;
use crate::stream::Steps;
use crate::tank::TankState;

impl Now<'_> {
    /// Sets all flows of a piece at rest, as the mean over its steps; its length is not yet known.
    pub(crate) fn flows(&self, piece: &mut Piece, tank: &TankState, on_mains: OnMains, steps: &Steps) {
        let around = self.around;
        let dark = self.is_dark(steps);
        piece.utility = self.route.utility;
        piece[Flow::Load] = around.load_w;
        piece[Flow::Demand] = around.demand_m3_s;
        piece.tank_m3 = tank.content_m3;
        piece.last_step = steps.last;
        if !dark {
            self.idle_groups(piece, steps);
        }
        let mains = self.pumps(piece, tank, on_mains, steps, dark);
        piece[Flow::Pumped] += mains.flow_m3_s;
        piece[Flow::Pumping] = if piece[Flow::Pumped] > 0.0 && mains.flow_m3_s <= 0.0 {
            self.share_pumping(steps, piece.motors)
        } else {
            f64::from(u8::from(mains.flow_m3_s > 0.0))
        };
        bus_side(piece, self.bus, self.route, around, &mains, (!dark).then_some(steps));
        piece[Flow::Delivered] = if tank.is_empty(&around.levels) {
            piece[Flow::Demand].min(piece[Flow::Pumped])
        } else {
            piece[Flow::Demand]
        };
    }

    /// Whether no string group has any power.
    fn is_dark(&self, steps: &Steps) -> bool {
        let mut groups = self.around.offers.groups.iter().take(self.route.groups.len());
        groups.all(|group| group.available_w.bounds(steps).greatest <= 0.0)
    }

    /// Books what the string groups have available, and what idle groups lose.
    fn idle_groups(&self, piece: &mut Piece, steps: &Steps) {
        for (feed, group) in self.route.groups.iter().zip(&self.around.offers.groups) {
            let w = group.available_w.mean(steps);
            piece[Flow::Available] += w;
            if let ArrayFeed::Idle(cause) = feed {
                piece.lose(*cause, w);
            }
        }
    }

    /// Share of the time in which a drive of this route gives water while water is wanted: in each step, that of the drive
    /// that runs longest in it.
    fn share_pumping(&self, steps: &Steps, motors: Motors) -> f64 {
        let on_drive = |feed: &PumpFeed| !matches!(feed, PumpFeed::Stopped(_) | PumpFeed::Mains);
        let drives = || {
            let sets = self.route.sets.iter().zip(&self.around.offers.sets);
            sets.filter(|(feed, _)| on_drive(feed)).filter_map(|(_, set)| set.drive.as_ref())
        };
        if drives().any(DriveYear::runs_in_parts) {
            return self.share_of_parts(steps, motors);
        }
        if steps.is_one() || drives().any(|year| year.flow_m3_s.bounds(steps).least > 0.0) {
            return 1.0;
        }
        let runs = |step: &usize| drives().any(|year| year.flow_m3_s.at(*step) > 0.0);
        steps.with_shares().filter(|(step, _)| runs(step)).map(|(_, share)| share).sum()
    }

    /// The same where a drive may run for only a share of a step. There may be mains on a second input in a single step only.
    fn share_of_parts(&self, steps: &Steps, motors: Motors) -> f64 {
        let share = |(s, set): (usize, &Arc<SetOffers>), step: usize| {
            let year = if motors.has_help(s) {
                &set.with_mains
            } else {
                &set.drive
            };
            year.as_ref().filter(|_| motors.has_drive(s)).map_or(0.0, |year| year.share_running(step))
        };
        let sets = || self.around.offers.sets.iter().enumerate();
        let greatest = |step: usize| sets().map(|set| share(set, step)).fold(0.0, f64::max);
        steps.with_shares().map(|(step, time)| time * greatest(step)).sum()
    }

    /// Runs the sets; returns what the sets on the bus take and pump, added up. There is only one step where a set's choice
    /// between drive and bus may change from step to step.
    fn pumps(&self, piece: &mut Piece, tank: &TankState, on_mains: OnMains, steps: &Steps, dark: bool) -> Mains {
        let on = on_mains.runs();
        let mut left_w = self.bus.for_pumps_w(self.around.sun_to_pump_first);
        let spare = self.spare(on_mains, steps.first);
        let mut all = Mains::default();
        let mut held_back: Option<ShortfallCause> = None;
        for (s, (feed, set)) in self.route.sets.iter().zip(&self.around.offers.sets).enumerate() {
            let mains = &set.mains[self.span.month];
            let alone = set.drive.as_ref();
            let mut take = |asked: &Mains| {
                let enough = spare.is_none_or(|spare| spare.carries(all.bus_w() + asked.bus_w()));
                let fits = enough && asked.bus_w() <= left_w;
                if fits {
                    left_w -= asked.bus_w();
                    all.add(asked);
                }
                fits
            };
            let mut drive = |year: Option<&DriveYear>| match year {
                None => ShortfallCause::TooLittleSun,
                Some(year) if dark && !year.has_mains() => year.held_back_at(steps),
                Some(year) => {
                    if tank.wanting {
                        piece.motors.set_on_drive(s, year.has_mains());
                    }
                    drive_side(piece, year, tank.wanting, steps)
                }
            };
            let cause = match *feed {
                PumpFeed::Stopped(cause) => cause,
                PumpFeed::Drive => drive(alone),
                PumpFeed::DriveAndMains { only_without_sun } => {
                    let off = !on || (only_without_sun && self.sun_suffices(set, steps.first));
                    match set.with_mains.as_ref().filter(|_| !off) {
                        // Mains may help in this hour, but the sun manages alone.
                        Some(helped) if helped.mains(steps.first).bus_w() <= 0.0 => drive(Some(helped)),
                        Some(helped) if take(&helped.mains(steps.first)) => drive(Some(helped)),
                        Some(_) => {
                            drive(alone);
                            ShortfallCause::SourceTooSmall
                        }
                        None => drive(alone),
                    }
                }
                PumpFeed::DriveElseMains if !on || !self.bus_replaces_sun(set, steps.first) => drive(alone),
                PumpFeed::Mains | PumpFeed::DriveElseMains => {
                    let taken = !matches!(on_mains, OnMains::Stop(_)) && take(mains);
                    match alone.filter(|_| *feed == PumpFeed::DriveElseMains && !dark) {
                        Some(year) if taken => hold_off(piece, year, steps),
                        Some(year) => _ = drive(Some(year)),
                        None => {}
                    }
                    if taken && mains.flow_m3_s > 0.0 {
                        piece.motors.set_on_bus(s);
                    }
                    held_back_on_bus(on_mains, taken, mains)
                }
            };
            // With several sets, the cause that comes first in the list counts.
            held_back = Some(held_back.map_or(cause, |first| first.min(cause)));
        }
        piece.held_back_by = held_back.unwrap_or(ShortfallCause::GridDown);
        all
    }
}

/// What holds back a set directly on the bus; `taken`: it runs.
fn held_back_on_bus(on_mains: OnMains, taken: bool, mains: &Mains) -> ShortfallCause {
    match on_mains {
        OnMains::Stop(cause) => cause,
        OnMains::OnSurplus if !taken => ShortfallCause::OutsideHours,
        _ if !taken => ShortfallCause::SourceTooSmall,
        _ if mains.throttled => ShortfallCause::WellLimit,
        _ => ShortfallCause::PumpTooSlow,
    }
}

/// Books a set on its drive: here the array's share, while mains' share is booked on the bus.
fn drive_side(piece: &mut Piece, drive: &DriveYear, wanting: bool, steps: &Steps) -> ShortfallCause {
    if !wanting {
        piece.lose(LossCause::WaterNotWanted, drive.available_w.mean(steps));
        return ShortfallCause::PumpTooSlow;
    }
    piece.lose_each(&drive.cuts_w, steps);
    piece[Flow::ArrayToPump] += drive.to_pump_w.mean(steps);
    piece[Flow::Pumped] += drive.flow_m3_s.mean(steps);
    piece.hz = piece.hz.max(drive.hz.get(steps.first).copied().unwrap_or(0.0));
    piece.lose(LossCause::DriveConversion, drive.conversion_w.mean(steps));
    piece.lose(LossCause::Cables, drive.cables_w.mean(steps));
    drive.held_back_at(steps)
}

/// Books the strings of a set that runs directly on a generator. What tracking, well, start and voltage cut off keeps its
/// cause; the rest is held off.
fn hold_off(piece: &mut Piece, drive: &DriveYear, steps: &Steps) {
    let mut left_w = drive.available_w.mean(steps);
    for (cause, stream) in drive.cuts_without_lockout().iter() {
        if let LossCause::Tracking | LossCause::WellLimit | LossCause::BelowStart | LossCause::VoltageLimitedSpeed =
            cause
        {
            let w = stream.mean(steps);
            piece.lose(cause, w);
            left_w -= w;
        }
    }
    piece.lose(LossCause::HeldOffByGrid, left_w.max(0.0));
}

#[cfg(test)]
mod tests;
