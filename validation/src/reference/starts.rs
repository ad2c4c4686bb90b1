//! Counts of starts: motors on the bus, drives that get power, and the changeover (§9).

use daylift_plant::{BySet, Wiring};
use daylift_units::Month;

use super::account::Account;
use super::basis::Moment;
use super::bus::Source;
use super::moment::Act;
use super::phases::{Dual, Piece};
use super::plan::{GroupAt, Plan};

/// Shares of the time closer to 0 or 1 than this are 0 or 1.
const HAIR: f64 = 1e-9;

/// What ran last, and the counts of the day.
#[derive(Debug, Clone)]
pub(super) struct Starts {
    ran: BySet<bool>,
    powered: BySet<bool>,
    /// Begin of the last outage, and whether the changeover was on its drive in the moment before \[s\].
    outage_s: Option<f64>,
    on_drive: bool,
    day: Option<(Month, u8)>,
    today: BySet<f64>,
    most: f64,
}

impl Starts {
    pub(super) fn new(plan: &Plan<'_, '_>) -> Self {
        let none = || plan.plant().sets.iter().map(|_| false).collect();
        Self {
            ran: none(),
            powered: none(),
            outage_s: None,
            on_drive: false,
            day: None,
            today: BySet::new(),
            most: 0.0,
        }
    }

    /// Forgets the counts of the year before, and keeps what ran at its end.
    pub(super) fn begin_year(&mut self) {
        self.outage_s = None;
        self.on_drive = false;
        self.day = None;
        self.most = 0.0;
    }

    /// A moment with its duration: a motor that runs for a share of the time starts once an hour.
    pub(super) fn see(&mut self, plan: &Plan<'_, '_>, piece: &Piece, act: &Act, time_s: f64, book: &mut Account) {
        if self.day != Some((piece.month, piece.day)) {
            self.day = Some((piece.month, piece.day));
            self.today = act.on_bus.iter().map(|_| 0.0).collect();
        }
        for (set, &share) in act.on_bus.iter_enumerated() {
            let starts = if share > HAIR && share < 1.0 - HAIR {
                time_s / 3600.0
            } else if share >= 1.0 - HAIR && !self.ran[set] {
                1.0
            } else {
                0.0
            };
            self.ran[set] = share > HAIR;
            self.today[set] += starts;
            book.add("motor-starts", starts);
        }
        let most: f64 = self.today.iter().copied().fold(0.0, f64::max);
        book.add("most-starts-in-a-day", (most - self.most).max(0.0));
        self.most = self.most.max(most);
        if plan.wiring == Wiring::DualMode {
            self.see_changeover(piece, book);
        }
        self.see_drives(plan, piece, &plan.basis.moment(piece.step, piece.month), book);
    }

    /// Every outage that does not find the drive running makes the changeover leave the grid.
    fn see_changeover(&mut self, piece: &Piece, book: &mut Account) {
        let outage_s = Some(piece.since_s).filter(|_| piece.grid_down);
        if outage_s.is_some() && outage_s != self.outage_s && !self.on_drive {
            book.add("changeover-cycles", 1.0);
        }
        self.outage_s = outage_s.or(self.outage_s);
        self.on_drive = piece.dual == Dual::OnDrive;
    }

    fn see_drives(&mut self, plan: &Plan<'_, '_>, piece: &Piece, moment: &Moment<'_>, book: &mut Account) {
        for set in plan.plant().sets.keys().filter(|&set| plan.is_driven(set)) {
            let of_set = plan.basis.groups().iter().zip(&moment.groups).filter(|(group, _)| group.set == Some(set));
            let lit = of_set.filter(|(group, _)| plan.group_at(group, piece) == GroupAt::Drive);
            let from_sun = lit.map(|(_, lit)| lit.best.power_w).sum::<f64>() > 0.0;
            let mains = matches!(plan.source(piece, false), Source::Grid | Source::Generator);
            let powered = from_sun || (plan.input.is_some() && mains);
            if powered && !self.powered[set] {
                book.add("drive-power-ups", 1.0);
            }
            self.powered[set] = powered;
        }
    }
}
