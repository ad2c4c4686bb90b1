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
    /// Whether it has the greater net present value; without prices, less import.
    pub(crate) fn is_worth_more_than(&self, other: &Self) -> bool {
        match (self.npv, other.npv) {
            (Some(own), Some(others)) => own > others,
            _ => self.imported_j < other.imported_j,
        }
    }

    /// Which of two rules is better; `Greater` means this one.
    ///
    /// An admissible rule is better than any other. Of two admissible ones the greater NPV is better; without prices more
    /// water, to 0.1 % of today's, then less import. Of two that are not admissible the one with more water, to 0.1 % of
    /// today's, is better, then the one that is worth more.
    pub(crate) fn compare(&self, other: &Self) -> Ordering {
        let thousandths = |score: &Self| (score.water * 1000.0).round();
        self.admissible.cmp(&other.admissible).then_with(|| match (self.npv, other.npv) {
            (Some(own), Some(others)) if self.admissible => own.total_cmp(&others),
            (Some(own), Some(others)) => thousandths(self).total_cmp(&thousandths(other)).then(own.total_cmp(&others)),
            _ => thousandths(self)
                .total_cmp(&thousandths(other))
                .then_with(|| other.imported_j.total_cmp(&self.imported_j)),
        })
    }
}

/// Choices with their scores, the best first; of equally good ones the one that changes the fewest parts of the first
/// choice.
pub(crate) type Ranking = Vec<(Choice, Score)>;

/// The places of the parts in a choice.
const HOURS: usize = 0;
const SURPLUS: usize = 1;
const FILL: usize = 2;
const LOW_MARK: usize = 3;

/// Tries choices one part at a time until no step helps or `most` choices have been tried. `orders` are the places of each
/// list from its lowest to its highest value; `judge` gives `None` for a choice that is impossible.
///
/// The first choice of every list is tried first. Few hours of pumping on mains often keep today's water only with a high
/// low mark, and save money only with a low one; and where there is a surplus, only with it. These cannot be chosen one
/// after the other. So all hours are tried from both `starts`, from the second only those that are not admissible from the
/// first. From the best of these the search goes on: surplus, fill level and low mark step to a neighbour as long as that
/// helps, then all hours are tried again. When that no longer helps, low mark and fill level, or low mark and surplus, take a
/// step together: less pumping at the bus may need a higher low mark.
pub(crate) fn descend(
    orders: &[Vec<usize>; PARTS],
    starts: [Choice; 2],
    most: usize,
    judge: impl FnMut(Choice) -> Option<Score>,
) -> Ranking {
    let mut search = Descent {
        tried: Tried::new(judge),
        most,
        best: None,
    };
    search.visit([0; PARTS]);
    for &hours in &orders[HOURS] {
        let [first, second] = starts.map(|start| with(start, HOURS, hours));
        let is_enough = search.visit(first).is_some_and(|score| score.admissible);
        if !is_enough {
            search.visit(second);
        }
    }
    loop {
        let before = search.best;
        for (part, order) in orders.iter().enumerate().skip(HOURS + 1) {
            search.walk(part, order.iter().copied());
            search.walk(part, order.iter().rev().copied());
        }
        let from = search.best.map_or([0; PARTS], |(best, _)| best);
        for &hours in &orders[HOURS] {
            search.visit(with(from, HOURS, hours));
        }
        if search.best == before {
            search.step_two_parts(orders);
        }
        if search.best == before {
            return search.tried.ranked();
        }
    }
}

/// A search with its best choice so far.
struct Descent<J> {
    tried: Tried<J>,
    most: usize,
    best: Option<(Choice, Score)>,
}

impl<J: FnMut(Choice) -> Option<Score>> Descent<J> {
    /// Tries a choice; `None` if it is impossible or too many have been tried.
    fn visit(&mut self, choice: Choice) -> Option<Score> {
        if self.tried.known(choice).is_none() && self.tried.count() >= self.most {
            return None;
        }
        let score = self.tried.score(choice)?;
        if self.best.is_none_or(|(_, best)| score.compare(&best) == Ordering::Greater) {
            self.best = Some((choice, score));
        }
        Some(score)
    }

    /// Steps the low mark together with the fill level or the surplus, in opposite and in the same direction.
    fn step_two_parts(&mut self, orders: &[Vec<usize>; PARTS]) {
        let Some((from, _)) = self.best else { return };
        let steps = [
            (FILL, -1, 1),
            (FILL, 1, -1),
            (SURPLUS, 1, 1),
            (SURPLUS, 1, 2),
            (SURPLUS, -1, -1),
        ];
        for (part, of_part, of_mark) in steps {
            let next = stepped(from, &orders[part], part, of_part)
                .and_then(|next| stepped(next, &orders[LOW_MARK], LOW_MARK, of_mark));
            if let Some(next) = next {
                self.visit(next);
            }
        }
    }

    /// Steps one part of the best choice forward along its places, as long as each step helps.
    fn walk(&mut self, part: usize, places: impl Iterator<Item = usize>) {
        let Some((from, _)) = self.best else { return };
        for place in places.skip_while(|place| *place != from[part]).skip(1) {
            let next = with(from, part, place);
            self.visit(next);
            if self.best.is_none_or(|(best, _)| best != next) {
                return;
            }
        }
    }
}

/// Tries every combination.
pub(crate) fn try_all(sizes: Choice, judge: impl FnMut(Choice) -> Option<Score>) -> Ranking {
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

/// The choice with one part moved along its order; `None` at the end of it.
fn stepped(from: Choice, order: &[usize], part: usize, by: isize) -> Option<Choice> {
    let at = order.iter().position(|place| *place == from[part])?;
    let place = order.get(at.checked_add_signed(by)?)?;
    Some(with(from, part, *place))
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

impl<J: FnMut(Choice) -> Option<Score>> Tried<J> {
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

    fn score(&mut self, choice: Choice) -> Option<Score> {
        self.known(choice).or_else(|| {
            let score = (self.judge)(choice)?;
            self.scores.push((choice, score));
            Some(score)
        })
    }

    fn ranked(mut self) -> Ranking {
        let changed = |choice: &Choice| choice.iter().filter(|place| **place > 0).count();
        self.scores.sort_by(|a, b| b.1.compare(&a.1).then(changed(&a.0).cmp(&changed(&b.0))));
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
        let ranking = descend(
            &[4, 3, 2, 5].map(|size| (0..size).collect()),
            [[0; PARTS], [0, 0, 0, 4]],
            30,
            |choice| {
                tries += 1;
                Some(hill(choice))
            },
        );
        assert_eq!(ranking[0].0, [2, 1, 0, 3]);
        assert!(tries < 4 * 3 * 2 * 5 / 4, "{tries}");
        assert_eq!(try_all([4, 3, 2, 5], |choice| Some(hill(choice)))[0].0, [2, 1, 0, 3]);
        assert_eq!(try_all([4, 3, 2, 5], |choice| Some(hill(choice))).len(), 120);
    }

    #[test]
    fn the_descent_stops_at_its_budget() {
        let mut tries = 0;
        descend(&orders([9; PARTS]), [[0; PARTS], [0, 0, 0, 8]], 20, |choice| {
            tries += 1;
            #[expect(clippy::cast_precision_loss, reason = "a few places")]
            let npv = choice.iter().sum::<usize>() as f64;
            Some(scored(true, Some(npv), 1.0, 0.0))
        });
        assert_eq!(tries, 20);
    }

    #[test]
    fn of_equals_the_one_with_the_fewest_changes_is_best() {
        let starts = [[0, 2, 0, 3], [0, 2, 0, 8]];
        let ranking = descend(&orders([9; PARTS]), starts, 20, |choice| {
            (choice[3] != 1).then(|| scored(true, Some(1.0), 1.0, 0.0))
        });
        assert!(ranking[0].0 == [0; PARTS] && ranking.iter().all(|(choice, _)| choice[3] != 1));
    }

    fn orders(sizes: Choice) -> [Vec<usize>; PARTS] {
        sizes.map(|size| (0..size).collect())
    }
}
