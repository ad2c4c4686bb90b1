//! A quantity in every step of the year, with its figures for whole hours.
//!
//! Most of a year is booked hour by hour: an hour in which nothing changes is booked at once.

/// Seconds of an hour.
const HOUR_S: f64 = 3600.0;

/// Consecutive steps; the first and the last may be partial.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Steps {
    /// First step.
    pub(crate) first: usize,
    /// Last step.
    pub(crate) last: usize,
    /// Their total time \[s\].
    pub(crate) length_s: f64,
    /// Time in the first step, in each step in the middle, and in the last \[s\].
    times_s: [f64; 3],
    /// The hour of the axis that contains them, if one does.
    hour: Option<usize>,
    /// Whether they are all of that hour.
    whole: bool,
}

impl Steps {
    /// A single step, or a part of it that lasts `length_s`.
    pub(crate) fn one(step: usize, length_s: f64) -> Self {
        Self {
            first: step,
            last: step,
            length_s,
            times_s: [length_s, 0.0, 0.0],
            hour: None,
            whole: false,
        }
    }

    /// All time between two instants \[s after the start of the year\]. The first is in step `first`. The second is in step
    /// `last` or at its end.
    pub(crate) fn between(from_s: f64, to_s: f64, [first, last]: [usize; 2], grid: Grid) -> Self {
        let length_s = to_s - from_s;
        if first >= last {
            return Self::one(first, length_s);
        }
        let tail_s = to_s - grid.end_s(last - 1);
        Self::several(length_s, [grid.end_s(first) - from_s, tail_s], [first, last], grid)
    }

    /// All time from an instant \[s after the start of the year\] in step `first` to `tail_s` after the start of a later step
    /// `last`. The time in the last step stays exactly `tail_s`, without the rounding of instants.
    pub(crate) fn ending_in(from_s: f64, tail_s: f64, [first, last]: [usize; 2], grid: Grid) -> Self {
        let length_s = grid.end_s(last - 1) - from_s + tail_s;
        Self::several(length_s, [grid.end_s(first) - from_s, tail_s], [first, last], grid)
    }

    #[inline]
    fn several(length_s: f64, [head_s, tail_s]: [f64; 2], [first, last]: [usize; 2], grid: Grid) -> Self {
        let hour = (first / grid.per_hour == last / grid.per_hour).then_some(first / grid.per_hour);
        Self {
            first,
            last,
            length_s,
            times_s: [head_s, grid.step_s, tail_s],
            hour,
            whole: hour.is_some() && length_s >= HOUR_S,
        }
    }

    /// Whether there is only one step.
    pub(crate) fn is_one(&self) -> bool {
        self.first == self.last
    }

    /// The steps with their shares of the time.
    pub(crate) fn with_shares(&self) -> impl Iterator<Item = (usize, f64)> {
        let (first, last) = (self.first, self.last);
        let [head, middle, tail] = self.times_s.map(|s| s / self.length_s);
        (first..=last).map(move |step| {
            let share = match step {
                _ if step == first => head,
                _ if step == last => tail,
                _ => middle,
            };
            (step, share)
        })
    }
}

/// The steps of a year: of equal length, starting with the year, a whole number in each hour.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Grid {
    /// Length of a step \[s\].
    pub(crate) step_s: f64,
    /// Steps in an hour.
    pub(crate) per_hour: usize,
}

impl Grid {
    /// Steps of length `step_s`, a whole fraction of an hour.
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a whole number of steps, 1 to 60"
    )]
    pub(crate) fn new(step_s: f64) -> Self {
        Self {
            step_s,
            per_hour: (HOUR_S / step_s).round().max(1.0) as usize,
        }
    }

    /// End of a step \[s after the start of the year\].
    #[expect(clippy::cast_precision_loss, reason = "steps of one year are exact in f64")]
    pub(crate) fn end_s(self, step: usize) -> f64 {
        (step + 1) as f64 * self.step_s
    }
}

/// A quantity in every step, with its mean over every hour.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Stream {
    steps: Vec<f64>,
    hours: Vec<f64>,
}

impl Stream {
    /// From the values of all steps; an hour has `per_hour` of them.
    #[must_use]
    pub fn new(steps: Vec<f64>, per_hour: usize) -> Self {
        let per_hour = per_hour.max(1);
        Self {
            hours: steps.chunks(per_hour).map(mean_of).collect(),
            steps,
        }
    }

    /// The values, one for each step.
    #[must_use]
    pub fn steps(&self) -> &[f64] {
        &self.steps
    }

    /// Value in a step; 0 past the end of the year.
    #[must_use]
    pub fn at(&self, step: usize) -> f64 {
        self.steps.get(step).copied().unwrap_or(0.0)
    }

    /// Mean over some steps; 0 past the end of the year.
    #[inline]
    pub(crate) fn mean(&self, steps: &Steps) -> f64 {
        if steps.is_one() {
            return self.at(steps.first);
        }
        if let (true, Some(hour)) = (steps.whole, steps.hour) {
            return self.hours.get(hour).copied().unwrap_or(0.0);
        }
        let [head_s, middle_s, tail_s] = steps.times_s;
        let between: f64 = self.steps.get(steps.first + 1..steps.last).unwrap_or_default().iter().sum();
        (head_s * self.at(steps.first) + middle_s * between + tail_s * self.at(steps.last)) / steps.length_s
    }

    /// Whether every step is zero.
    fn is_zero(&self) -> bool {
        self.hours.iter().all(|&v| v == 0.0)
    }
}

/// Mean of the steps of an hour, at least one. The processor can add the four separate sums in parallel.
#[expect(clippy::cast_precision_loss, reason = "at most 60")]
fn mean_of(hour: &[f64]) -> f64 {
    let (fours, rest) = hour.as_chunks::<4>();
    let add = |sums: [f64; 4], four: &[f64; 4]| std::array::from_fn(|i| sums[i] + four[i]);
    let [a, b, c, d] = fours.iter().fold([0.0; 4], add);
    ((a + b) + (c + d) + rest.iter().sum::<f64>()) / hour.len() as f64
}

/// A quantity in every step, with mean, minimum and maximum of every hour.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Bounded {
    stream: Stream,
    bounds: Vec<Bounds>,
}

/// Minimum and maximum.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Bounds {
    pub(crate) least: f64,
    pub(crate) greatest: f64,
}

impl Bounds {
    /// Bounds of a quantity that never changes.
    pub(crate) fn always(value: f64) -> Self {
        Self {
            least: value,
            greatest: value,
        }
    }

    /// Bounds of the sum of two quantities: never narrower than the true ones.
    pub(crate) fn plus(self, other: Self) -> Self {
        Self {
            least: self.least + other.least,
            greatest: self.greatest + other.greatest,
        }
    }

    fn of(values: &[f64]) -> Self {
        let none = Self {
            least: f64::INFINITY,
            greatest: f64::NEG_INFINITY,
        };
        let wider = |b: Self, &v: &f64| Self {
            least: b.least.min(v),
            greatest: b.greatest.max(v),
        };
        values.iter().fold(none, wider)
    }
}

impl Bounded {
    /// From the values of all steps; an hour has `per_hour` of them.
    #[must_use]
    pub fn new(steps: Vec<f64>, per_hour: usize) -> Self {
        Self {
            bounds: steps.chunks(per_hour.max(1)).map(Bounds::of).collect(),
            stream: Stream::new(steps, per_hour),
        }
    }

    /// The values, one for each step.
    #[must_use]
    pub fn steps(&self) -> &[f64] {
        self.stream.steps()
    }

    /// Value in a step; 0 past the end of the year.
    #[must_use]
    pub fn at(&self, step: usize) -> f64 {
        self.stream.at(step)
    }

    /// Mean over some steps.
    pub(crate) fn mean(&self, steps: &Steps) -> f64 {
        self.stream.mean(steps)
    }

    /// Bounds over some steps: those of the hour that contains them, so they may be wider than necessary.
    pub(crate) fn bounds(&self, steps: &Steps) -> Bounds {
        if steps.is_one() {
            return Bounds::always(self.at(steps.first));
        }
        match steps.hour {
            Some(hour) => self.bounds.get(hour).copied().unwrap_or(Bounds::always(0.0)),
            None => Bounds::of(self.steps().get(steps.first..=steps.last).unwrap_or_default()),
        }
    }
}

/// What is cut off in every step, by cause, in the order of the causes. Causes that never cut are left out.
#[derive(Debug, Clone, PartialEq)]
pub struct ByCause<C> {
    streams: Vec<(C, Stream)>,
}

impl<C> Default for ByCause<C> {
    fn default() -> Self {
        Self { streams: Vec::new() }
    }
}

impl<C: Copy + Ord> ByCause<C> {
    /// From the values of all steps for each cause.
    pub(crate) fn new(values: Vec<(C, Vec<f64>)>, per_hour: usize) -> Self {
        let streams = values.into_iter().map(|(cause, steps)| (cause, Stream::new(steps, per_hour)));
        let mut streams: Vec<(C, Stream)> = streams.filter(|(_, s)| !s.is_zero()).collect();
        streams.sort_by_key(|(cause, _)| *cause);
        Self { streams }
    }

    /// Each cause and its values.
    pub fn iter(&self) -> impl Iterator<Item = (C, &Stream)> {
        self.streams.iter().map(|(cause, stream)| (*cause, stream))
    }
}

/// One of a few words in every step, and for every hour its word if it has only one.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Words<W> {
    steps: Vec<W>,
    hours: Vec<Option<W>>,
}

impl<W: Copy + PartialEq> Words<W> {
    /// From the words of all steps; an hour has `per_hour` of them.
    pub(crate) fn new(steps: Vec<W>, per_hour: usize) -> Self {
        let one = |hour: &[W]| hour.first().copied().filter(|first| hour.iter().all(|w| w == first));
        Self {
            hours: steps.chunks(per_hour.max(1)).map(one).collect(),
            steps,
        }
    }

    /// The word of a step.
    pub(crate) fn at(&self, step: usize) -> Option<W> {
        self.steps.get(step).copied()
    }

    /// Whether some steps are known to share one word. May be false although they do, where a check would take long.
    pub(crate) fn is_one(&self, steps: &Steps) -> bool {
        steps.is_one() || steps.hour.and_then(|hour| *self.hours.get(hour)?).is_some()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEN_MINUTES: Grid = Grid {
        step_s: 600.0,
        per_hour: 6,
    };

    fn stream() -> Bounded {
        Bounded::new((0..24).map(f64::from).collect(), 6)
    }

    #[test]
    fn the_mean_over_parts_of_steps_is_weighted_by_time() {
        // Worked by hand: 300 s of step 1, all of 2 and 3, 150 s of step 4: (300·1 + 600·2 + 600·3 + 150·4)/1650.
        let steps = Steps::between(900.0, 2550.0, [1, 4], TEN_MINUTES);
        assert!((stream().mean(&steps) - 3900.0 / 1650.0).abs() < 1e-12);
        let shares: f64 = steps.with_shares().map(|(_, share)| share).sum();
        assert!((shares - 1.0).abs() < 1e-12);
    }

    #[test]
    fn steps_that_end_within_one_keep_the_time_of_that_part() {
        // From 900 s, in step 1, to a third of a second after the start of step 4: 300 s, two whole steps, 1/3 s.
        let third_s = 1.0 / 3.0;
        let steps = Steps::ending_in(900.0, third_s, [1, 4], TEN_MINUTES);
        assert!((steps.length_s - (1500.0 + third_s)).abs() < 1e-12);
        let mean = (300.0 + 600.0 * 2.0 + 600.0 * 3.0 + third_s * 4.0) / (1500.0 + third_s);
        assert!((stream().mean(&steps) - mean).abs() < 1e-12);
        let last = steps.with_shares().last().unwrap();
        assert!(last.0 == 4 && (last.1 * steps.length_s - third_s).abs() < 1e-13);
    }

    #[test]
    fn a_whole_hour_is_looked_up_and_a_part_of_one_step_is_that_step() {
        let hour = Steps::between(3600.0, 7200.0, [6, 11], TEN_MINUTES);
        assert!(hour.whole && (stream().mean(&hour) - 8.5).abs() < 1e-12);
        assert_eq!(
            stream().bounds(&hour),
            Bounds {
                least: 6.0,
                greatest: 11.0
            }
        );
        assert!((stream().mean(&Steps::one(7, 200.0)) - 7.0).abs() < 1e-15);
    }

    #[test]
    fn steps_of_two_hours_have_bounds_of_their_own() {
        let astride = Steps::between(1800.0, 5400.0, [3, 8], TEN_MINUTES);
        assert!(!astride.whole && (stream().mean(&astride) - 5.5).abs() < 1e-12);
        assert_eq!(
            stream().bounds(&astride),
            Bounds {
                least: 3.0,
                greatest: 8.0
            }
        );
    }

    #[test]
    fn causes_that_never_cut_are_left_out_and_words_know_their_hours() {
        let cuts = ByCause::new(vec![(2, vec![0.0, 1.0]), (1, vec![0.0, 0.0]), (0, vec![3.0, 0.0])], 2);
        assert_eq!(cuts.iter().map(|(cause, _)| cause).collect::<Vec<_>>(), [0, 2]);
        let words = Words::new([vec!['a'; 6], vec!['a', 'a', 'b', 'b', 'b', 'b']].concat(), 6);
        let hour = |h: usize| {
            let from_s = f64::from(u32::try_from(h).unwrap()) * 3600.0;
            Steps::between(from_s, from_s + 3600.0, [6 * h, 6 * h + 5], TEN_MINUTES)
        };
        assert!(words.is_one(&hour(0)) && !words.is_one(&hour(1)));
    }
}
