//! Starts of the motors, counted while the year is settled.
//!
//! A chapter counts the starts inside it, and keeps what runs in its first and in its last piece. Starts at the border of
//! two chapters are added when the year is put together. So what a chapter counts depends only on the stores at its
//! beginning, and a pass may take over the chapters of the pass before.

use std::ops::Range;

use daylift_plant::{BySet, SetId};
use daylift_units::constants::HOUR_S;

use crate::offers::{DriveYear, Offers};
use crate::piece::Piece;

/// A bit for each pump set. A farm has far fewer than 64; a set beyond the 64th is not counted.
type Sets = u64;

fn bit(set: usize) -> Sets {
    u32::try_from(set).ok().and_then(|set| 1_u64.checked_shl(set)).unwrap_or(0)
}

/// The sets of some bits.
fn each(mut sets: Sets) -> impl Iterator<Item = usize> {
    std::iter::from_fn(move || {
        let set = (sets != 0).then(|| sets.trailing_zeros() as usize)?;
        sets &= sets - 1;
        Some(set)
    })
}

/// What runs the motors in a piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) struct Motors {
    on_bus: Sets,
    /// Of the sets on the bus, those that run only for the share of the time that holds the low mark.
    held: Sets,
    on_drive: Sets,
    /// Of the sets on their drives, those with mains on the second input.
    helped: Sets,
}

impl Motors {
    /// A set runs on its drive, with or without mains on the second input.
    #[inline]
    pub(crate) fn set_on_drive(&mut self, set: usize, helped: bool) {
        self.on_drive |= bit(set);
        if helped {
            self.helped |= bit(set);
        }
    }

    /// A set runs on the bus, and so not on its drive.
    #[inline]
    pub(crate) fn set_on_bus(&mut self, set: usize) {
        self.on_bus |= bit(set);
        self.on_drive &= !bit(set);
    }

    /// Whether a set runs on its drive.
    pub(crate) fn has_drive(self, set: usize) -> bool {
        self.on_drive & bit(set) != 0
    }

    /// Whether a set runs on its drive with mains on the second input.
    pub(crate) fn has_help(self, set: usize) -> bool {
        self.helped & bit(set) != 0
    }

    /// The low mark is held by turns of these two: both pieces get what runs in the first, and what of that rests in the
    /// second.
    pub(crate) fn by_turns(on: &mut Self, off: &mut Self) {
        on.held = on.on_bus & !off.on_bus;
        *off = *on;
    }
}

/// Starts of a set in a civil day.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct DayStarts {
    on_bus: f64,
    on_sun: f64,
}

/// Sets that run at an instant: on the bus, and with flow on their drives.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
struct Running {
    on_bus: Sets,
    on_drive: Sets,
}

/// The starts of a set on the bus in a stretch of time: the first, the last, and the least time between two \[s\].
#[derive(Debug, Clone, Copy, PartialEq)]
struct Gaps {
    first_s: f64,
    last_s: f64,
    least_s: f64,
}

impl Default for Gaps {
    fn default() -> Self {
        Self {
            first_s: f64::INFINITY,
            last_s: f64::NEG_INFINITY,
            least_s: f64::INFINITY,
        }
    }
}

impl Gaps {
    fn start(&mut self, at_s: f64) {
        self.first_s = self.first_s.min(at_s);
        self.least_s = self.least_s.min(at_s - self.last_s);
        self.last_s = at_s;
    }

    /// Adds a later stretch.
    fn then(&mut self, later: &Self) {
        if later.first_s.is_finite() {
            self.start(later.first_s);
            self.last_s = later.last_s;
        }
        self.least_s = self.least_s.min(later.least_s);
    }
}

/// What a chapter knows of its starts, besides their numbers.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct ChapterStarts {
    /// What runs in its first piece, except sets that hold the low mark.
    first: Option<Running>,
    /// What runs in its last piece.
    last: Running,
    gaps: Vec<Gaps>,
}

/// Counts the starts of a span into its chapter and its civil day.
pub(crate) struct Counter<'a> {
    pub(crate) chapter: &'a mut ChapterStarts,
    /// The day's starts of each set.
    pub(crate) day: &'a mut [DayStarts],
    /// The devices, where starts on the sun are counted.
    pub(crate) sun: Option<&'a Offers>,
    /// Where the next piece starts \[s after the start of the year\].
    pub(crate) at_s: f64,
}

impl ChapterStarts {
    /// Nothing counted yet, for a plant of so many sets.
    pub(crate) fn new(sets: usize) -> Self {
        Self {
            gaps: vec![Gaps::default(); sets],
            ..Self::default()
        }
    }
}

impl Counter<'_> {
    #[inline]
    pub(crate) fn piece(&mut self, step: usize, piece: &Piece) {
        let motors = &piece.motors;
        let [first, last] = match self.sun {
            Some(offers) => self.on_drives(offers, [step, piece.last_step], motors),
            None => [0; 2],
        };
        // Sets that hold the low mark are counted by the hour, not where they begin.
        let begins = Running {
            on_bus: motors.on_bus & !motors.held,
            on_drive: first,
        };
        if self.chapter.first.is_none() {
            self.chapter.first = Some(begins);
        } else {
            let was = self.chapter.last;
            let (bus, drive) = (begins.on_bus & !was.on_bus, first & !was.on_drive);
            if bus | drive != 0 {
                self.starts(bus, drive);
            }
        }
        if motors.held != 0 {
            self.held(motors.held, piece.length_s);
        }
        self.chapter.last = Running {
            on_bus: motors.on_bus,
            on_drive: last,
        };
        self.at_s += piece.length_s;
    }

    fn starts(&mut self, bus: Sets, drive: Sets) {
        for set in each(bus) {
            count(self.day, set, 1.0, 0.0);
            if let Some(gaps) = self.chapter.gaps.get_mut(set) {
                gaps.start(self.at_s);
            }
        }
        for set in each(drive) {
            count(self.day, set, 0.0, 1.0);
        }
    }

    /// Sets that hold the low mark by turns start once an hour.
    fn held(&mut self, sets: Sets, length_s: f64) {
        for set in each(sets) {
            count(self.day, set, length_s / HOUR_S, 0.0);
            if let Some(gaps) = self.chapter.gaps.get_mut(set) {
                gaps.least_s = gaps.least_s.min(HOUR_S);
            }
        }
    }

    /// The sets with flow on their drives in the first and in the last of some steps. Starts between them are counted.
    fn on_drives(&mut self, offers: &Offers, [first, last]: [usize; 2], motors: &Motors) -> [Sets; 2] {
        let mut running = [0; 2];
        for set in each(motors.on_drive) {
            let Some(of) = offers.sets.get(SetId::from(set)) else {
                continue;
            };
            let helped = motors.helped & bit(set) != 0;
            let drive = if helped { &of.with_mains } else { &of.drive };
            let Some(drive) = drive else {
                continue;
            };
            for (sets, step) in running.iter_mut().zip([first, last]) {
                if drive.flow_m3_s.at(step) > 0.0 {
                    *sets |= bit(set);
                }
            }
            count(self.day, set, 0.0, starts_within(drive, first..last));
        }
        running
    }
}

/// How often the flow of a drive begins after the first of some steps; `but_last` are all but the last.
fn starts_within(drive: &DriveYear, but_last: Range<usize>) -> f64 {
    let begins = |step: &usize| drive.flow_m3_s.at(*step) <= 0.0 && drive.flow_m3_s.at(step + 1) > 0.0;
    but_last.filter(begins).map(|_| 1.0).sum()
}

fn count(day: &mut [DayStarts], set: usize, on_bus: f64, on_sun: f64) {
    if let Some(starts) = day.get_mut(set) {
        starts.on_bus += on_bus;
        starts.on_sun += on_sun;
    }
}

/// Starts of a set's motor in the year. Where the low mark is held by fractions of the time, they are fractions too.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct MotorStarts {
    /// On the bus.
    pub on_bus: f64,
    /// On its drive; counted only at steps of one minute.
    pub on_sun: Option<f64>,
    /// The most in a civil day, on the bus and, where they are counted, on its drive.
    pub most_in_a_day: f64,
    /// Least time between two starts on the bus \[s\]; infinite with fewer than two.
    pub least_gap_s: f64,
}

/// Puts the year's starts together. `chapters` are in order, each with its start \[s after the start of the year\] and its
/// first day. `days` has the starts of every set inside the chapters, day by day. Before the year begins the sets run as at
/// its end.
pub(crate) fn of_year<'a>(
    sets: usize,
    chapters: impl DoubleEndedIterator<Item = (&'a ChapterStarts, f64, usize)> + Clone,
    mut days: Vec<DayStarts>,
    sun_is_counted: bool,
) -> BySet<MotorStarts> {
    let mut before = chapters.clone().next_back().map_or_else(Running::default, |(last, ..)| last.last);
    let mut gaps = vec![Gaps::default(); sets];
    for (chapter, start_s, day) in chapters {
        let first = chapter.first.unwrap_or(before);
        let day = days.get_mut(day * sets..(day + 1) * sets).unwrap_or_default();
        for set in each(first.on_bus & !before.on_bus) {
            count(day, set, 1.0, 0.0);
            if let Some(gaps) = gaps.get_mut(set) {
                gaps.start(start_s);
            }
        }
        for set in each(first.on_drive & !before.on_drive) {
            count(day, set, 0.0, 1.0);
        }
        gaps.iter_mut().zip(&chapter.gaps).for_each(|(gaps, later)| gaps.then(later));
        before = chapter.last;
    }
    let of_set = |(set, gaps): (usize, &Gaps)| {
        let days = || days.iter().skip(set).step_by(sets);
        let in_a_day = days().map(|day| day.on_bus + day.on_sun);
        MotorStarts {
            on_bus: days().map(|day| day.on_bus).sum(),
            on_sun: sun_is_counted.then(|| days().map(|day| day.on_sun).sum()),
            most_in_a_day: in_a_day.fold(0.0, f64::max),
            least_gap_s: gaps.least_s,
        }
    };
    gaps.iter().enumerate().map(of_set).collect()
}
