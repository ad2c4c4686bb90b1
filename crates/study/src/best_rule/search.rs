//! The search: from choice to choice, one part of the rule at a time.

use std::cmp::Ordering;

/// Parts of a rule.
pub(crate) const PARTS: usize = 4;

/// A choice for each part, as the place in its list.
pub(crate) type Choice = [usize; PARTS];

/// How well a rule serves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Score {
    /// Whether the row delivers today's water under it, in the year and in every month.
    pub(crate) admissible: bool,
    /// Net present value; `None` without prices.
    pub(crate) npv: Option<f64>,
    /// Water delivered in the year, as a share of today's.
    pub(crate) water: f64,
    /// Energy imported in the year \[J\].
    pub(crate) imported_j: f64,
}

impl Score {
    /// Which of two rules is better; `Greater` means this one.
    ///
    /// An admissible rule is better than any other. Of two admissible ones the greater NPV is better; without prices more
    /// water, to 0.1 % of today's, then less import. Of two that are not admissible the one with more water is better.
    pub(crate) fn compare(&self, other: &Self) -> Ordering {
        let thousandths = |score: &Self| (score.water * 1000.0).round();
        self.admissible.cmp(&other.admissible).then_with(|| match (self.npv, other.npv) {
            _ if !self.admissible => self.water.total_cmp(&other.water),
            (Some(own), Some(others)) => own.total_cmp(&others),
            _ => thousandths(self)
                .total_cmp(&thousandths(other))
                .then_with(|| other.imported_j.total_cmp(&self.imported_j)),
        })
    }
}

/// Choices with their scores, the best first; of equally good ones the one that was tried first.
pub(crate) type Ranking = Vec<(Choice, Score)>;

/// Tries choices one part at a time until no single change helps or `most` choices have been tried. `sizes` are the lengths
/// of the lists, each at least 1.
///
/// The first choice of every list is tried first. Then the first part is tried in full from each of the `starts`; from the
/// best of these the search goes on.
pub(crate) fn descend(sizes: Choice, starts: &[Choice], most: usize, judge: impl FnMut(Choice) -> Score) -> Ranking {
    let mut tried = Tried::new(judge);
    let mut best = [0; PARTS];
    let mut best_score = tried.score(best);
    let mut sweep = |from: Choice, part: usize, best: &mut Choice| {
        for choice in (0..sizes[part]).map(|place| with(from, part, place)) {
            if !tried.knows(choice) && tried.count() >= most {
                return;
            }
            let score = tried.score(choice);
            if score.compare(&best_score) == Ordering::Greater {
                (*best, best_score) = (choice, score);
            }
        }
    };
    for start in starts {
        sweep(*start, 0, &mut best);
    }
    loop {
        let before = best;
        for part in (0..PARTS).rev() {
            sweep(best, part, &mut best);
        }
        if best == before {
            return tried.ranked();
        }
    }
}

/// Tries every combination.
pub(crate) fn try_all(sizes: Choice, judge: impl FnMut(Choice) -> Score) -> Ranking {
    let mut tried = Tried::new(judge);
    let count: usize = sizes.iter().product();
    for number in 0..count {
        let mut rest = number;
        tried.score(sizes.map(|size| {
            let place = rest % size;
            rest /= size;
            place
        }));
    }
    tried.ranked()
}

fn with(mut choice: Choice, part: usize, place: usize) -> Choice {
    choice[part] = place;
    choice
}

/// The choices tried so far.
struct Tried<J> {
    judge: J,
    scores: Ranking,
}

impl<J: FnMut(Choice) -> Score> Tried<J> {
    fn new(judge: J) -> Self {
        Self {
            judge,
            scores: Vec::new(),
        }
    }

    fn count(&self) -> usize {
        self.scores.len()
    }

    fn known(&self, choice: Choice) -> Option<Score> {
        self.scores.iter().find(|(known, _)| *known == choice).map(|(_, score)| *score)
    }

    fn knows(&self, choice: Choice) -> bool {
        self.known(choice).is_some()
    }

    fn score(&mut self, choice: Choice) -> Score {
        self.known(choice).unwrap_or_else(|| {
            let score = (self.judge)(choice);
            self.scores.push((choice, score));
            score
        })
    }

    fn ranked(mut self) -> Ranking {
        self.scores.sort_by(|a, b| b.1.compare(&a.1));
        self.scores
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn scored(admissible: bool, npv: Option<f64>, water: f64, imported_j: f64) -> Score {
        Score {
            admissible,
            npv,
            water,
            imported_j,
        }
    }

    #[test]
    fn an_admissible_rule_is_better_than_a_richer_one_that_is_not() {
        let (dry, wet) = (
            scored(false, Some(900.0), 0.9, 0.0),
            scored(true, Some(100.0), 1.0, 0.0),
        );
        assert_eq!(wet.compare(&dry), Ordering::Greater);
        assert_eq!(wet.compare(&scored(true, Some(101.0), 0.999, 0.0)), Ordering::Less);
        assert_eq!(dry.compare(&scored(false, Some(-5.0), 0.91, 0.0)), Ordering::Less);
    }

    #[test]
    fn without_prices_water_counts_to_a_thousandth_and_then_the_import() {
        let of = |water, imported_j| scored(true, None, water, imported_j);
        assert_eq!(of(1.02, 9.0).compare(&of(1.0, 1.0)), Ordering::Greater);
        assert_eq!(of(1.0004, 9.0).compare(&of(1.0, 1.0)), Ordering::Less);
    }

    /// A score with its top at (2, 1, 0, 3), falling by 1 with each place away from it.
    fn hill(choice: Choice) -> Score {
        let away: usize = choice.iter().zip([2, 1, 0, 3]).map(|(place, top)| place.abs_diff(top)).sum();
        #[expect(clippy::cast_precision_loss, reason = "a few places")]
        let npv = -(away as f64);
        scored(true, Some(npv), 1.0, 0.0)
    }

    #[test]
    fn the_descent_finds_the_top_of_a_hill_in_few_tries() {
        let mut tries = 0;
        let ranking = descend([4, 3, 2, 5], &[], 30, |choice| {
            tries += 1;
            hill(choice)
        });
        assert_eq!(ranking[0].0, [2, 1, 0, 3]);
        // 1 + 3 + 2 + 1 + 4 in the first round; the second tries each part around the top once more.
        assert!(tries < 4 * 3 * 2 * 5 / 4, "{tries}");
        assert_eq!(try_all([4, 3, 2, 5], hill)[0].0, [2, 1, 0, 3]);
        assert_eq!(try_all([4, 3, 2, 5], hill).len(), 120);
    }

    #[test]
    fn the_descent_stops_at_its_budget_and_keeps_the_first_of_equals() {
        let mut tries = 0;
        let ranking = descend([9, 9, 9, 9], &[], 20, |_| {
            tries += 1;
            scored(true, Some(1.0), 1.0, 0.0)
        });
        assert!(tries == 20 && ranking[0].0 == [0; PARTS]);
    }
}
