//! The pump map: power and flow of a set at each frequency, tabulated so that no step of the year has to solve
//! anything.

use daylift_units::{LossCurve, Month, Monthly};

use crate::drive::Drive;
use crate::flux::AtSpeed;
use crate::point::MapPoint;
use crate::rating::Ratings;
use crate::set::PumpSet;

#[cfg(test)]
mod tests;

/// Number of knots in a column.
const KNOTS: u32 = 129;

/// A pump set on its drive, tabulated by month and frequency: at full flux, or at the flux of a bus that something holds.
///
/// Between the knots everything is linear in u, with f = f_s + (f_g − f_s)·u³; f_s is the start frequency and f_g the
/// maximum. The cube places the knots densely where flow begins, as it rises like a square root there. (With the
/// square, a small aquifer loss makes a bend that the knots miss by 0.07 %.) Compared with [`PumpSet::drive_point`],
/// the error of the flow is below 0.02 % of the flow at the maximum frequency. The error of each power is below 0.05 %
/// of the drive's input there. This is tested on sets that start at 10 Hz or above. The input power equals the sum of
/// its parts to within rounding.
#[derive(Debug, Clone, PartialEq)]
pub struct PumpMap {
    columns: Vec<MapColumn>,
    column_of: Monthly<usize>,
}

/// The set in the months that share a standing level.
#[derive(Debug, Clone, PartialEq)]
pub struct MapColumn {
    start_hz: f64,
    greatest_hz: f64,
    wanted_hz: f64,
    rated_hz: f64,
    bus_v_per_hz: f64,
    ratings: Ratings,
    losses: LossCurve,
    knots: Vec<MapPoint>,
    inner: Vec<Inner>,
    load_at_wanted: f64,
    rising_from: usize,
    at_start: MapPoint,
    at_wanted: MapPoint,
    well_limit: Option<Limit>,
    drive_limit: Option<Limit>,
    /// Highest frequency that the flux of a held bus allows \[Hz\].
    flux_limit_hz: f64,
}

/// What happens inside motor and drive at a knot, at full flux.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Inner {
    /// Losses of the motor \[W\]: fixed, and with torque.
    losses_w: [f64; 2],
    /// Torque, as a share of the rated torque.
    torque: f64,
    /// How much of the drive's rating it takes, without derating.
    of_drive: f64,
}

/// A limit on the frequency.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limit {
    /// Frequency \[Hz\].
    pub hz: f64,
    /// Input of the drive at this frequency \[W\]; 0 below the start frequency.
    pub dc_w: f64,
}

impl PumpMap {
    /// The map of a set at full flux; `None` without a drive.
    #[must_use]
    pub fn new(set: &PumpSet) -> Option<Self> {
        Self::with_bus(set, None)
    }

    /// The map of a set whose drive has its bus held at `held_v`: the flux is as full as that allows, and no lower than
    /// the drive's least flux. `None` without a drive.
    #[must_use]
    pub fn held(set: &PumpSet, held_v: f64) -> Option<Self> {
        Self::with_bus(set, Some(held_v))
    }

    fn with_bus(set: &PumpSet, held_v: Option<f64>) -> Option<Self> {
        let (drive, ratings, bus_v_per_hz) = (set.drive()?, set.ratings()?, set.bus_v_per_hz()?);
        let make = Make {
            set,
            drive,
            ratings,
            bus_v_per_hz,
            held_v,
        };
        let level = |m: Month| set.system().well().static_level_m(m).to_bits();
        let mut columns = Vec::new();
        let mut column_of = Monthly::default();
        for m in Month::ALL {
            let twin = Month::ALL.into_iter().find(|&earlier| earlier < m && level(earlier) == level(m));
            column_of[m] = twin.map_or(columns.len(), |earlier| column_of[earlier]);
            if twin.is_none() {
                columns.push(MapColumn::new(&make, m));
            }
        }
        Some(Self { columns, column_of })
    }

    /// The column of a month.
    #[must_use]
    pub fn month(&self, month: Month) -> &MapColumn {
        &self.columns[self.column_of[month]]
    }

    /// The columns, one for each standing level.
    #[must_use]
    pub fn columns(&self) -> &[MapColumn] {
        &self.columns
    }
}

/// What columns are made from.
struct Make<'a> {
    set: &'a PumpSet,
    drive: &'a Drive,
    ratings: &'a Ratings,
    bus_v_per_hz: f64,
    /// Bus voltage that something else holds \[V\].
    held_v: Option<f64>,
}

impl Make<'_> {
    /// The point at a frequency, with the share of full flux that a held bus allows, and what happens inside.
    fn knot(&self, month: Month, hz: f64) -> (MapPoint, Inner) {
        let point = self.set.on_drive(self.drive, month, hz);
        let (duty, ratio) = (point.duty, self.set.ratio(hz));
        let full = MapPoint::new(hz, duty.motor_w, duty.cable_w, point.drive_loss_w, duty.flow_m3_s);
        let inner = Inner {
            losses_w: self.set.losses_on_drive_w(duty.shaft_w, ratio),
            torque: self.set.motor().torque(duty.shaft_w, ratio),
            of_drive: 0.0,
        };
        let load = self.ratings.load(&point, inner.torque, ratio);
        let at = AtSpeed::new(full, inner.losses_w, inner.torque, self.drive.losses());
        let inner = Inner {
            of_drive: load.of_drive,
            ..inner
        };
        (self.held_share(hz).map_or(full, |share| at.at(share)), inner)
    }

    fn held_share(&self, hz: f64) -> Option<f64> {
        let need_v = self.bus_v_per_hz * hz.min(self.set.motor().rated_frequency_hz());
        self.held_v.map(|held_v| (held_v / need_v).min(1.0).max(self.drive.rating().least_flux))
    }

    /// The frequency at which a held bus allows just the least flux \[Hz\]; infinite where it allows more at every one.
    fn flux_limit_hz(&self) -> f64 {
        let (least, rated_hz) = (self.drive.rating().least_flux, self.set.motor().rated_frequency_hz());
        let limit_hz = |held_v: f64| held_v / (least * self.bus_v_per_hz);
        self.held_v.map(limit_hz).filter(|hz| *hz < rated_hz).unwrap_or(f64::INFINITY)
    }
}

impl MapColumn {
    fn new(make: &Make<'_>, month: Month) -> Self {
        let set = make.set;
        let (start_hz, greatest_hz) = (set.start_hz(month), set.greatest_hz());
        let knot = |i: u32| {
            let u = f64::from(i) / f64::from(KNOTS - 1);
            make.knot(month, start_hz + (greatest_hz - start_hz) * u.powi(3))
        };
        let (knots, inner): (Vec<MapPoint>, Vec<Inner>) = if start_hz <= greatest_hz {
            (0..KNOTS).map(knot).unzip()
        } else {
            (Vec::new(), Vec::new())
        };
        let falls = knots.windows(2).rposition(|pair| pair[1].dc_w <= pair[0].dc_w);
        let mut column = Self {
            start_hz,
            greatest_hz,
            wanted_hz: set.wanted_hz(),
            rated_hz: set.motor().rated_frequency_hz(),
            bus_v_per_hz: make.bus_v_per_hz,
            ratings: *make.ratings,
            losses: make.drive.losses().clone(),
            rising_from: falls.map_or(0, |i| i + 1),
            knots,
            inner,
            load_at_wanted: 0.0,
            at_start: MapPoint::IDLE,
            at_wanted: MapPoint::IDLE,
            well_limit: None,
            drive_limit: None,
            flux_limit_hz: make.flux_limit_hz(),
        };
        column.at_start = column.at_hz(column.start_hz);
        column.at_wanted = column.at_hz(column.wanted_hz);
        column.load_at_wanted = column.inner_at(column.wanted_hz).map_or(0.0, |inner| inner.of_drive);
        let limit = |hz: f64| column.limit(hz);
        let limits = [set.well_limit_hz(month), set.drive_limit_hz(month)].map(|hz| hz.map(limit));
        [column.well_limit, column.drive_limit] = limits;
        column
    }

    fn limit(&self, hz: f64) -> Limit {
        Limit {
            hz,
            dc_w: self.power_at_hz_w(hz),
        }
    }

    /// The set at its start frequency; at rest when it cannot run at all.
    #[must_use]
    pub fn at_start(&self) -> &MapPoint {
        &self.at_start
    }

    /// The set at its wanted frequency.
    #[must_use]
    pub fn at_wanted(&self) -> &MapPoint {
        &self.at_wanted
    }

    /// Start frequency \[Hz\]; above [`Self::greatest_hz`] when the set cannot run at all.
    #[must_use]
    pub fn start_hz(&self) -> f64 {
        self.start_hz
    }

    /// Maximum frequency \[Hz\].
    #[must_use]
    pub fn greatest_hz(&self) -> f64 {
        self.greatest_hz
    }

    /// Wanted frequency \[Hz\].
    #[must_use]
    pub fn wanted_hz(&self) -> f64 {
        self.wanted_hz
    }

    /// The well's limit, see [`PumpSet::well_limit_hz`].
    #[must_use]
    pub fn well_limit(&self) -> Option<Limit> {
        self.well_limit
    }

    /// The limit from the rating of drive and motor, see [`PumpSet::drive_limit_hz`].
    #[must_use]
    pub fn drive_limit(&self) -> Option<Limit> {
        self.drive_limit
    }

    /// The share of its rating that the drive keeps in air of this temperature \[°C\].
    #[must_use]
    pub fn kept_in_air(&self, air_c: f64) -> f64 {
        self.ratings.rating.at_air(air_c)
    }

    /// The limit from the rating where the drive keeps the share `by_heat` of it. A limit that is not below the wanted
    /// frequency may be left out.
    #[must_use]
    pub fn drive_limit_by_heat(&self, by_heat: f64) -> Option<Limit> {
        let derating = self.ratings.derating(by_heat);
        if by_heat >= 1.0 || self.load_at_wanted <= derating {
            return self.drive_limit;
        }
        let above = self.inner.iter().position(|knot| knot.of_drive > derating)?;
        let Some(below) = above.checked_sub(1) else {
            return Some(Limit { hz: 0.0, dc_w: 0.0 });
        };
        let (from, to) = (self.inner[below].of_drive, self.inner[above].of_drive);
        let hz = self.hz_at(below, (derating - from) / (to - from));
        match self.drive_limit {
            Some(limit) if limit.hz <= hz => Some(limit),
            _ => Some(self.limit(hz)),
        }
    }

    /// The lowest of the wanted frequency, the well's limit, that of the drive's rating where it keeps the share
    /// `by_heat`, and that of the flux on a held bus \[Hz\].
    #[must_use]
    pub fn top_hz(&self, by_heat: f64) -> f64 {
        let limits = [self.well_limit, self.drive_limit_by_heat(by_heat)].into_iter().flatten();
        limits.fold(self.wanted_hz.min(self.flux_limit_hz), |hz, limit| hz.min(limit.hz))
    }

    /// Bus voltage \[V\] that full flux needs at a frequency \[Hz\], see [`PumpSet::bus_need_v`].
    #[must_use]
    pub fn bus_need_v(&self, hz: f64) -> f64 {
        self.bus_v_per_hz * hz.min(self.rated_hz)
    }

    /// The motor's rated frequency \[Hz\].
    #[must_use]
    pub fn rated_hz(&self) -> f64 {
        self.rated_hz
    }

    /// The set at a frequency \[Hz\] for every flux, at the start frequency below it. `None` when it cannot run at all.
    #[must_use]
    pub fn at_speed(&self, hz: f64) -> Option<AtSpeed<'_>> {
        let hz = hz.max(self.start_hz);
        let inner = self.inner_at(hz)?;
        Some(AtSpeed::new(self.at_hz(hz), inner.losses_w, inner.torque, &self.losses))
    }

    /// The lowest share of full flux at a frequency \[Hz\] that the drive may set while it keeps the share `by_heat` of its
    /// rating; `at` is the set at that frequency.
    #[must_use]
    pub fn least_share(&self, at: &AtSpeed<'_>, by_heat: f64) -> f64 {
        let ratio = at.full().hz / self.rated_hz;
        at.least_share(
            self.ratings.rating.least_flux,
            self.ratings.most_current(by_heat),
            ratio,
        )
    }

    /// Whether the drive may reduce the flux at all.
    #[must_use]
    pub fn reduces_flux(&self) -> bool {
        self.ratings.rating.least_flux < 1.0
    }

    /// What happens inside at a frequency from the start on \[Hz\]; `None` below it.
    fn inner_at(&self, hz: f64) -> Option<Inner> {
        if hz.is_nan() || hz < self.start_hz {
            return None;
        }
        let last = self.inner.last()?;
        if hz >= self.greatest_hz {
            return Some(*last);
        }
        let (i, t) = self.place_of_hz(hz);
        let (a, b) = (&self.inner[i], &self.inner[i + 1]);
        let between = |a: f64, b: f64| a + (b - a) * t;
        Some(Inner {
            losses_w: [
                between(a.losses_w[0], b.losses_w[0]),
                between(a.losses_w[1], b.losses_w[1]),
            ],
            torque: between(a.torque, b.torque),
            of_drive: between(a.of_drive, b.of_drive),
        })
    }

    /// The highest frequency \[Hz\] at which the drive's input is at most `dc_w` \[W\]; 0 when that power is too
    /// little to start.
    #[must_use]
    pub fn hz_for_power(&self, dc_w: f64) -> f64 {
        let Some(last) = self.knots.last() else { return 0.0 };
        if dc_w >= last.dc_w {
            return last.hz;
        }
        self.place_of_power(dc_w).map_or(0.0, |(i, t)| self.hz_at(i, t))
    }

    /// The set with this input power \[W\]: at the frequency of [`Self::hz_for_power`], at rest when it is too little
    /// to start.
    #[must_use]
    pub fn at_power(&self, dc_w: f64) -> MapPoint {
        match self.knots.last() {
            Some(last) if dc_w >= last.dc_w => *last,
            _ => self
                .place_of_power(dc_w)
                .map_or(MapPoint::IDLE, |(i, t)| self.between(i, t, self.hz_at(i, t))),
        }
    }

    /// The knot below an input power \[W\] (never the last knot), and the share of the way to the next.
    fn place_of_power(&self, dc_w: f64) -> Option<(usize, f64)> {
        let i = self.last_knot_within(dc_w)?;
        let (below, above) = (&self.knots[i], &self.knots[i + 1]);
        Some((i, (dc_w - below.dc_w) / (above.dc_w - below.dc_w)))
    }

    /// Frequency \[Hz\] at a share `t` of the way from knot `i` to the next.
    fn hz_at(&self, i: usize, t: f64) -> f64 {
        let u = position(i) + t / f64::from(KNOTS - 1);
        self.start_hz + (self.greatest_hz - self.start_hz) * u.powi(3)
    }

    /// The set at `hz`, at a share `t` of the way from knot `i` to the next.
    fn between(&self, i: usize, t: f64, hz: f64) -> MapPoint {
        let (a, b) = (&self.knots[i], &self.knots[i + 1]);
        let between = |a: f64, b: f64| a + (b - a) * t;
        MapPoint::new(
            hz,
            between(a.motor_w, b.motor_w),
            between(a.cable_w, b.cable_w),
            between(a.drive_loss_w, b.drive_loss_w),
            between(a.flow_m3_s, b.flow_m3_s),
        )
    }

    /// The set at a frequency \[Hz\]: at rest below the start, and never above the maximum frequency.
    #[must_use]
    pub fn at_hz(&self, hz: f64) -> MapPoint {
        let Some(last) = self.knots.last() else {
            return MapPoint::IDLE;
        };
        if hz.is_nan() || hz < self.start_hz {
            return MapPoint::IDLE;
        }
        if hz >= last.hz {
            return *last;
        }
        let (i, t) = self.place_of_hz(hz);
        self.between(i, t, hz)
    }

    /// Input of the drive \[W\] at a frequency \[Hz\], as in [`Self::at_hz`].
    #[must_use]
    pub fn power_at_hz_w(&self, hz: f64) -> f64 {
        let Some(last) = self.knots.last() else { return 0.0 };
        if hz.is_nan() || hz < self.start_hz {
            return 0.0;
        }
        if hz >= last.hz {
            return last.dc_w;
        }
        let (i, t) = self.place_of_hz(hz);
        let (a, b) = (self.knots[i].dc_w, self.knots[i + 1].dc_w);
        a + (b - a) * t
    }

    /// The knot at or below a frequency between start and maximum, and the share of the way to the next.
    fn place_of_hz(&self, hz: f64) -> (usize, f64) {
        let u = ((hz - self.start_hz) / (self.greatest_hz - self.start_hz)).powf(1.0 / 3.0);
        let i = segment(u);
        (i, (u - position(i)) * f64::from(KNOTS - 1))
    }

    /// The last knot, except the final one, that takes at most `dc_w` while the next takes more.
    ///
    /// Bisection over the knots from which the power always rises. Below them the power may dip, for a pump whose power
    /// first falls with flow; there the search goes from top to bottom.
    fn last_knot_within(&self, dc_w: f64) -> Option<usize> {
        let (dipping, rising) = self.knots.split_at(self.rising_from);
        match rising.partition_point(|knot| knot.dc_w <= dc_w) {
            0 => dipping.iter().rposition(|knot| knot.dc_w <= dc_w),
            n => Some(self.rising_from + n - 1),
        }
    }
}

/// u of knot `i`.
#[expect(clippy::cast_precision_loss, reason = "a knot number is small")]
fn position(i: usize) -> f64 {
    i as f64 / f64::from(KNOTS - 1)
}

/// The knot at or below u, but never the last.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "u lies between 0 and 1"
)]
fn segment(u: f64) -> usize {
    ((u * f64::from(KNOTS - 1)) as usize).min(KNOTS as usize - 2)
}
