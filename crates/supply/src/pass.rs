//! Passes through the year, chapter by chapter.

use std::ops::Range;

use daylift_grid::Loads;
use daylift_plant::BySet;
use daylift_units::{Hour, Step};

use crate::inputs::YearInputs;
use crate::ledger::{Account, Ledger};
use crate::levels::Levels;
use crate::offers::Offers;
use crate::piece::{Piece, Recorder};
use crate::settle::{Stores, settle};
use crate::starts::{ChapterStarts, Counter, DayStarts, MotorStarts, of_year};
use crate::surroundings::Surroundings;
use crate::timeline::{Span, Timeline};

/// Consecutive spans of a few days of one civil month, as settled by the last pass.
struct Chapter {
    spans: Range<usize>,
    /// Civil days of the year that the chapter touches.
    days: Range<usize>,
    /// The stores at its start; `None` before the first pass.
    start: Option<Stores>,
    account: Account,
    starts: ChapterStarts,
}

/// Passes through one year. The rest of a year depends only on the stores: when a pass reaches a chapter with the same
/// stores as the pass before, it keeps the rest of that pass.
pub(crate) struct Passes<'a> {
    inputs: &'a YearInputs<'a>,
    chapters: Vec<Chapter>,
    days: Vec<(f64, f64)>,
    /// Starts of each set, day by day.
    day_starts: Vec<DayStarts>,
    end: Option<Stores>,
}

impl<'a> Passes<'a> {
    /// No pass has run yet.
    pub(crate) fn new(inputs: &'a YearInputs<'a>) -> Self {
        // Civil days may start and end at other instants than the year's days, so there is one more of them.
        let days = inputs.axis.days() as usize + 1;
        Self {
            inputs,
            chapters: chapters(inputs.timeline),
            days: vec![(0.0, 0.0); days],
            day_starts: vec![DayStarts::default(); days * inputs.offers.sets.len()],
            end: None,
        }
    }

    /// Runs the year from given stores; returns the stores at its end.
    pub(crate) fn run(&mut self, start: Stores) -> Stores {
        let mut stores = start;
        let mut around = self.inputs.surroundings();
        let (sets, sun) = (self.inputs.offers.sets.len(), self.inputs.sun_starts_of());
        for chapter in &mut self.chapters {
            if let (true, Some(end)) = (chapter.start == Some(stores), self.end) {
                return end;
            }
            chapter.start = Some(stores);
            chapter.account = Account::default();
            chapter.starts = ChapterStarts::new(sets);
            let starts = chapter.days.start * sets..chapter.days.end * sets;
            self.day_starts.get_mut(starts).unwrap_or_default().fill(DayStarts::default());
            self.days.get_mut(chapter.days.clone()).unwrap_or_default().fill((0.0, 0.0));
            for span in &self.inputs.timeline.spans()[chapter.spans.clone()] {
                let mut beyond = (0.0, 0.0);
                let mut booking = Booking {
                    account: &mut chapter.account,
                    day: self.days.get_mut(usize::from(span.day)).unwrap_or(&mut beyond),
                    hour: span.hour,
                    starts: Counter {
                        chapter: &mut chapter.starts,
                        day: day_of(&mut self.day_starts, span.day, sets),
                        sun,
                        at_s: span.start_s,
                    },
                };
                self.inputs.settle(span, &mut around, &mut stores, &mut booking);
            }
        }
        self.end = Some(stores);
        stores
    }

    /// Runs the year from given stores for a recorder that watches.
    pub(crate) fn show<R: Recorder>(&self, start: Stores, recorder: &mut R) {
        let mut stores = start;
        let mut around = self.inputs.surroundings();
        for span in self.inputs.timeline.spans() {
            self.inputs.settle(span, &mut around, &mut stores, recorder);
        }
    }

    /// The account of the last pass.
    pub(crate) fn ledger(&self) -> Ledger {
        let mut ledger = Ledger::new(self.days.clone());
        for chapter in &self.chapters {
            if let Some(first) = self.inputs.timeline.spans().get(chapter.spans.start) {
                ledger.add(first.month, &chapter.account);
            }
        }
        ledger
    }

    /// The starts of every set's motor in the last pass.
    pub(crate) fn starts(&self) -> BySet<MotorStarts> {
        let spans = self.inputs.timeline.spans();
        let chapters = self.chapters.iter().map(|chapter| {
            let start_s = spans.get(chapter.spans.start).map_or(0.0, |span| span.start_s);
            (&chapter.starts, start_s, chapter.days.start)
        });
        let sun_is_counted = self.inputs.sun_starts_of().is_some();
        of_year(
            self.inputs.offers.sets.len(),
            chapters,
            self.day_starts.clone(),
            sun_is_counted,
        )
    }
}

/// The starts of every set in a civil day.
fn day_of(starts: &mut [DayStarts], day: u16, sets: usize) -> &mut [DayStarts] {
    let begin = usize::from(day) * sets;
    starts.get_mut(begin..begin + sets).unwrap_or_default()
}

/// The chapters of a year before its first pass.
fn chapters(timeline: &Timeline) -> Vec<Chapter> {
    let day = |span: Option<&Span>| span.map_or(0, |s| usize::from(s.day));
    let chapter = |range: &Range<usize>| {
        let spans = timeline.spans().get(range.clone()).unwrap_or_default();
        Chapter {
            spans: range.clone(),
            days: day(spans.first())..day(spans.last()) + 1,
            start: None,
            account: Account::default(),
            starts: ChapterStarts::default(),
        }
    };
    timeline.chapters().iter().map(chapter).collect()
}

/// Books the pieces of a span into a chapter's account.
struct Booking<'a> {
    account: &'a mut Account,
    day: &'a mut (f64, f64),
    hour: Hour,
    starts: Counter<'a>,
}

impl Recorder for Booking<'_> {
    const WATCHES: bool = false;

    #[inline]
    fn piece(&mut self, step: usize, piece: &Piece) {
        self.account.book(self.hour, self.day, piece);
        self.starts.piece(step, piece);
    }
}

impl YearInputs<'_> {
    /// The devices whose starts on the sun are counted: only steps of one minute are short enough for that.
    fn sun_starts_of(&self) -> Option<&Offers> {
        (self.axis.step() == Step::Minute).then_some(self.offers)
    }

    /// The surroundings that all spans share; what differs from span to span is set later.
    fn surroundings(&self) -> Surroundings<'_> {
        let line_w = self.export.line_limit_w();
        Surroundings {
            grid: self.timeline.grid(),
            offers: self.offers,
            by_hour: Levels::of(self.tank).by_hour(&self.fill),
            levels: Levels::of(self.tank),
            surplus: self.surplus,
            battery: self.battery,
            generator: self.generator,
            line_w,
            export_w: self.export.agreed_w().min(line_w),
            sun_to_pump_first: self.sun_to_pump_first,
            export_paid: false,
            load_w: 0.0,
            backed_up_w: 0.0,
            generator_load_w: 0.0,
            demand_m3_s: 0.0,
        }
    }

    /// Settles one span.
    fn settle<R: Recorder>(&self, span: &Span, around: &mut Surroundings<'_>, stores: &mut Stores, out: &mut R) {
        let Some(route) = self.routes.get(span.route) else {
            return;
        };
        let mean_w = |loads: &Loads| loads.mean_power_w(span.start_s, span.length_s(), span.month, span.hour);
        let dark = !route.utility;
        around.export_paid = self.export.is_paid(span.month, span.hour);
        around.load_w = mean_w(self.loads);
        around.backed_up_w = if dark && self.battery.is_some() {
            mean_w(self.backed_up)
        } else {
            0.0
        };
        around.generator_load_w = if dark && self.generator.is_some() {
            mean_w(self.generator_loads)
        } else {
            0.0
        };
        around.levels = around.by_hour[span.hour];
        stores.tank.begin_hour(&around.levels);
        around.demand_m3_s = self.demand.flow_m3_s(span.month, span.hour);
        settle(span, route, around, stores, out);
    }
}
