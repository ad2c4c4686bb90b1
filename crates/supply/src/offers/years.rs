//! The devices through the year: a stream for each quantity that is booked.

use daylift_array::CableLoss;
use daylift_lift::StartRule;
use daylift_units::constants::HOUR_S;

use crate::cause::{LossCause, ShortfallCause};
use crate::limits::Cuts;
use crate::offers::bus::BusOffer;
use crate::offers::drive::DriveOffer;
use crate::offers::lockout::{Lockout, Sun};
use crate::offers::mains::Mains;
use crate::stream::{Bounded, ByCause, Steps, Stream, Words};

/// A pump set on its drive through the year.
#[derive(Debug, Clone, PartialEq)]
pub struct DriveYear {
    /// Offered by its string groups \[W\].
    pub available_w: Stream,
    /// Array power at the motor's terminals \[W\].
    pub to_pump_w: Stream,
    /// Array power lost in the drive \[W\].
    pub conversion_w: Stream,
    /// Array power lost in DC and motor cables \[W\].
    pub cables_w: Stream,
    /// Flow \[m³/s\]; 0 when the pump cannot start.
    pub flow_m3_s: Bounded,
    /// Frequency \[Hz\].
    pub hz: Vec<f64>,
    /// The array power left unused, by cause \[W\].
    pub cuts_w: ByCause<LossCause>,
    /// Why the pump does not give more water.
    pub held_back_by: Words<ShortfallCause>,
    /// Mains' share on the drive's second input, by step; empty without a second input.
    mains: Vec<Mains>,
    /// What the lockout of starts changed; `None` where it changed nothing.
    locked: Option<Locked>,
}

/// Starts of a drive that were held back.
#[derive(Debug, Clone, PartialEq)]
struct Locked {
    /// The steps in which it runs only for a share, in order, with that share.
    shares: Vec<(usize, f64)>,
    /// What the limits up to the voltage rule cut off without the lockout, by cause \[W\].
    cuts_w: ByCause<LossCause>,
}

impl DriveYear {
    /// From the offer of each step; an hour has `per_hour` steps.
    #[must_use]
    pub fn new(offers: impl ExactSizeIterator<Item = DriveOffer>, per_hour: usize) -> Self {
        let mut gathered = DriveSteps::new(offers.len());
        offers.for_each(|offer| gathered.push(&offer));
        gathered.year(per_hour)
    }

    /// From the offer of each step on the sun alone, with the lockout of starts; the flag says whether the sun is enough for a
    /// stopped set to start.
    #[must_use]
    pub fn starting(
        offers: impl ExactSizeIterator<Item = (DriveOffer, bool)>,
        rule: &StartRule,
        per_hour: usize,
    ) -> Self {
        let mut gathered = DriveSteps::new(offers.len()).starting(rule, per_hour);
        offers.for_each(|(offer, ready)| gathered.push_alone(&offer, || ready));
        gathered.year(per_hour)
    }

    /// As [`new`](Self::new), with mains on the second input.
    #[cfg(test)]
    pub(crate) fn with_mains(offers: &[DriveOffer], per_hour: usize) -> Self {
        let mut gathered = DriveSteps::new(offers.len());
        offers.iter().for_each(|offer| gathered.push_with_mains(offer));
        gathered.year(per_hour)
    }

    /// Whether mains is on the drive's second input.
    pub(crate) fn has_mains(&self) -> bool {
        !self.mains.is_empty()
    }

    /// Whether it runs for only a share of some steps.
    pub(crate) fn runs_in_parts(&self) -> bool {
        self.locked.as_ref().is_some_and(|locked| !locked.shares.is_empty())
    }

    /// The share of a step in which it runs while water is wanted.
    pub(crate) fn share_running(&self, step: usize) -> f64 {
        if self.flow_m3_s.at(step) <= 0.0 {
            return 0.0;
        }
        let shares = self.locked.as_ref().map_or(&[][..], |locked| &locked.shares);
        let place = shares.binary_search_by_key(&step, |(at, _)| *at);
        place.ok().and_then(|place| shares.get(place)).map_or(1.0, |(_, share)| *share)
    }

    /// What the limits cut off while the set does not run on the sun, by cause \[W\].
    pub(crate) fn cuts_without_lockout(&self) -> &ByCause<LossCause> {
        self.locked.as_ref().map_or(&self.cuts_w, |locked| &locked.cuts_w)
    }

    /// Mains' share in a step, as a pump on the bus. Its flow is 0 here, because it is counted with the drive.
    pub(crate) fn mains(&self, step: usize) -> Mains {
        self.mains.get(step).copied().unwrap_or_default()
    }

    /// Why the pump does not give more water, in the first of some steps.
    pub(crate) fn held_back_at(&self, steps: &Steps) -> ShortfallCause {
        self.held_back_by.at(steps.first).unwrap_or(ShortfallCause::TooLittleSun)
    }
}

/// Collects the steps of a drive's year.
pub(super) struct DriveSteps {
    available_w: Vec<f64>,
    to_pump_w: Vec<f64>,
    conversion_w: Vec<f64>,
    cables_w: Vec<f64>,
    flow_m3_s: Vec<f64>,
    hz: Vec<f64>,
    cuts: Gathered,
    held_back_by: Vec<ShortfallCause>,
    mains: Vec<Mains>,
    starts: Option<Starts>,
}

/// The lockout of a drive's starts while its steps are collected.
struct Starts {
    lockout: Lockout,
    shares: Vec<(usize, f64)>,
    /// Whether any start was held back.
    any: bool,
    free_cuts: Gathered,
}

impl DriveSteps {
    /// Empty, with room for so many steps.
    pub(super) fn new(steps: usize) -> Self {
        let empty = || Vec::with_capacity(steps);
        Self {
            available_w: empty(),
            to_pump_w: empty(),
            conversion_w: empty(),
            cables_w: empty(),
            flow_m3_s: empty(),
            hz: empty(),
            cuts: Gathered::new(steps),
            held_back_by: Vec::with_capacity(steps),
            mains: Vec::new(),
            starts: None,
        }
    }

    /// The same, with the lockout of starts; steps are then added by [`push_alone`](Self::push_alone).
    pub(super) fn starting(self, rule: &StartRule, per_hour: usize) -> Self {
        #[expect(clippy::cast_precision_loss, reason = "1 to 60 steps in an hour")]
        let step_s = HOUR_S / per_hour.max(1) as f64;
        let starts = Lockout::new(rule, step_s).map(|lockout| Starts {
            lockout,
            shares: Vec::new(),
            any: false,
            free_cuts: Gathered::new(self.flow_m3_s.capacity()),
        });
        Self { starts, ..self }
    }

    /// Adds the next step on the sun alone. `ready` is asked where it matters: whether the sun is enough for a stopped set to
    /// start.
    pub(super) fn push_alone(&mut self, offer: &DriveOffer, ready: impl FnOnce() -> bool) {
        let step = self.hz.len();
        let Some(starts) = &mut self.starts else {
            return self.push(offer);
        };
        let runs = offer.flow_m3_s > 0.0;
        let share = starts.lockout.share(if offer.available_w <= 0.0 {
            Sun::Dark
        } else if !runs {
            Sun::TooLittle
        } else if ready() {
            Sun::Ready
        } else {
            Sun::Enough
        });
        starts.free_cuts.add(step, &offer.cuts);
        if !runs || share >= 1.0 {
            return self.push(offer);
        }
        starts.any = true;
        if share > 0.0 {
            starts.shares.push((step, share));
        }
        self.push(&offer.running_for(share));
    }

    /// Adds the next step.
    pub(super) fn push(&mut self, offer: &DriveOffer) {
        let share = offer.array_share();
        self.cuts.add(self.hz.len(), &offer.cuts);
        self.available_w.push(offer.available_w);
        self.to_pump_w.push(offer.motor_w * share);
        self.conversion_w.push(offer.drive_loss_w * share);
        self.cables_w.push(offer.dc_cable_w + offer.motor_cable_w * share);
        self.flow_m3_s.push(offer.flow_m3_s);
        self.hz.push(offer.hz);
        self.held_back_by.push(offer.held_back_by);
    }

    /// Adds the next step, with mains on the second input.
    pub(super) fn push_with_mains(&mut self, offer: &DriveOffer) {
        self.push(offer);
        self.mains.push(offer.on_mains());
    }

    /// The finished year; an hour has `per_hour` steps.
    pub(super) fn year(self, per_hour: usize) -> DriveYear {
        let stream = |values| Stream::new(values, per_hour);
        DriveYear {
            available_w: stream(self.available_w),
            to_pump_w: stream(self.to_pump_w),
            conversion_w: stream(self.conversion_w),
            cables_w: stream(self.cables_w),
            flow_m3_s: Bounded::new(self.flow_m3_s, per_hour),
            hz: self.hz,
            cuts_w: self.cuts.by_cause(per_hour),
            held_back_by: Words::new(self.held_back_by, per_hour),
            mains: self.mains,
            locked: self.starts.filter(|starts| starts.any).map(|starts| Locked {
                shares: starts.shares,
                cuts_w: starts.free_cuts.by_cause(per_hour),
            }),
        }
    }
}

/// An inverter through the year.
#[derive(Debug, Clone, PartialEq)]
pub struct BusYear {
    /// Arriving at the bus when it takes everything \[W\].
    pub bus_w: Bounded,
    /// Lost in the inverter in that case \[W\].
    pub conversion_w: Stream,
    /// Lost in DC and AC cables in that case \[W\].
    pub cables_w: Stream,
    /// The array power left unused, by cause \[W\].
    pub cuts_w: ByCause<LossCause>,
    /// Drawn from the array in that case \[W\].
    array_w: Vec<f64>,
    /// The DC cables of its strings, as one.
    cable: Vec<CableLoss>,
}

impl BusYear {
    /// From the offer of each step; an hour has `per_hour` steps.
    #[must_use]
    pub fn new(offers: impl ExactSizeIterator<Item = BusOffer>, per_hour: usize) -> Self {
        let steps = offers.len();
        let empty = || Vec::with_capacity(steps);
        let (mut bus_w, mut conversion_w, mut cables_w, mut array_w) = (empty(), empty(), empty(), empty());
        let mut cable = Vec::with_capacity(steps);
        let mut cuts = Gathered::new(steps);
        for (step, offer) in offers.enumerate() {
            bus_w.push(offer.bus_w);
            conversion_w.push(offer.whole.conversion_w);
            cables_w.push(offer.whole.cables_w);
            array_w.push(offer.array_w);
            cable.push(offer.cable);
            cuts.add(step, &offer.cuts);
        }
        Self {
            bus_w: Bounded::new(bus_w, per_hour),
            conversion_w: Stream::new(conversion_w, per_hour),
            cables_w: Stream::new(cables_w, per_hour),
            cuts_w: cuts.by_cause(per_hour),
            array_w,
            cable,
        }
    }

    /// What it draws from the array in a step when the bus takes everything \[W\].
    pub(crate) fn array_w(&self, step: usize) -> f64 {
        self.array_w.get(step).copied().unwrap_or(0.0)
    }

    /// The DC cables of its strings in a step, as one.
    pub(crate) fn cable(&self, step: usize) -> CableLoss {
        self.cable.get(step).copied().unwrap_or(CableLoss::NONE)
    }
}

/// Collects the cuts of all steps, by cause.
struct Gathered {
    steps: usize,
    by_cause: Vec<(LossCause, Vec<f64>)>,
}

impl Gathered {
    fn new(steps: usize) -> Self {
        Self {
            steps,
            by_cause: Vec::new(),
        }
    }

    fn add(&mut self, step: usize, cuts: &Cuts) {
        for &(cause, w) in cuts.parts() {
            let known = self.by_cause.iter().position(|(c, _)| *c == cause);
            let place = known.unwrap_or_else(|| {
                self.by_cause.push((cause, vec![0.0; self.steps]));
                self.by_cause.len() - 1
            });
            self.by_cause[place].1[step] += w;
        }
    }

    fn by_cause(self, per_hour: usize) -> ByCause<LossCause> {
        ByCause::new(self.by_cause, per_hour)
    }
}
