//! How a curve follows the points of a datasheet, and how far it is from them.

use crate::fault::{Fault, Warning};
use crate::field::{Unit, rounded};
use crate::{fingerprint, ids};

/// How a curve follows the points of a datasheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum CurveForm {
    /// A formula with few coefficients, fitted by least squares.
    #[default]
    Fitted,
    /// A monotone curve through every point ([`Pchip`](crate::Pchip)).
    ThroughPoints,
}

ids!(CurveForm { Fitted = "fitted", ThroughPoints = "through-points" });
fingerprint!(by Hash: CurveForm);

/// Misfit above which the reader is warned (usual practice: readings from a printed curve are good to 1 % to 2 %).
pub const REPORTED: f64 = 0.03;
/// Largest misfit with which a fitted curve is used (usual practice, no source). Above it, the curve has another form than
/// the datasheet's, or a point is wrong.
pub const GREATEST: f64 = 0.08;

/// The largest difference between a curve and its datasheet.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Misfit {
    /// The difference as a fraction: of a head, as a fraction of the shut-off head; of an efficiency, as a fraction of
    /// the efficiency given.
    pub share: f64,
    /// Where it is largest: flow or load, in SI.
    pub at: f64,
    /// The value that the datasheet gives there, in SI.
    pub given: f64,
    /// The value of the curve there, in SI.
    pub fitted: f64,
}

/// What a fault or a warning about a misfit says.
#[derive(Debug, Clone, Copy)]
pub struct Judged<'a> {
    /// Key of the value in its file.
    pub key: &'a str,
    /// What the value is, in words: `head of the pump`.
    pub quantity: &'a str,
    /// Unit of the value.
    pub unit: Unit,
    /// Unit of flow or load, and the word behind it: `load` or nothing.
    pub at: (Unit, &'a str),
    /// What the difference is a fraction of, as ` of the shut-off head`; empty for the value given.
    pub of: &'a str,
    /// What to do when the points are right.
    pub otherwise: &'a str,
}

/// The usual advice when the points are right.
pub const FOLLOW_POINTS: &str = "write `curve = \"through-points\"` in this file";

impl Misfit {
    /// The worst of several points (at, given, fitted), each compared with the value given.
    #[must_use]
    pub fn of_given(points: impl IntoIterator<Item = (f64, f64, f64)>) -> Self {
        Self::worst(points, |given| given)
    }

    /// The worst of several points (at, given, fitted), all compared with one value.
    #[must_use]
    pub fn of_whole(whole: f64, points: impl IntoIterator<Item = (f64, f64, f64)>) -> Self {
        Self::worst(points, |_| whole)
    }

    fn worst(points: impl IntoIterator<Item = (f64, f64, f64)>, whole: impl Fn(f64) -> f64) -> Self {
        let misfits = points.into_iter().map(|(at, given, fitted)| Self {
            share: (fitted - given).abs() / whole(given),
            at,
            given,
            fitted,
        });
        misfits.fold(
            Self::default(),
            |worst, one| if one.share > worst.share { one } else { worst },
        )
    }

    /// A fault where the curve is too far from the datasheet.
    ///
    /// # Errors
    /// A fault above 8 %.
    pub fn check(&self, about: &Judged<'_>) -> Result<(), Fault> {
        if self.share <= GREATEST {
            return Ok(());
        }
        Err(Fault::new(
            about.key,
            format!("{} as fitted to the datasheet", about.quantity),
            self.in_words(about),
            format!("up to {}", rounded(GREATEST, Unit::PERCENT)),
            format!(
                "compare the points with the datasheet; if they are right, {}",
                about.otherwise
            ),
        ))
    }

    /// A warning where the curve of the device of this name is more than 3 % from the datasheet.
    #[must_use]
    pub fn warning(&self, subject: &str, name: &str, about: &Judged<'_>) -> Option<Warning> {
        (self.share > REPORTED).then(|| {
            let text = format!(
                "\"{name}\": the {} as fitted to the datasheet is {}; to follow the datasheet, {}",
                about.quantity,
                self.in_words(about),
                about.otherwise
            );
            Warning::new(subject, text)
        })
    }

    fn in_words(&self, about: &Judged<'_>) -> String {
        let (unit, word) = about.at;
        format!(
            "{} at {}{}{word}, where it gives {}: a difference of {}{}",
            rounded(self.fitted, about.unit),
            rounded(self.at, unit),
            if word.is_empty() { "" } else { " " },
            rounded(self.given, about.unit),
            rounded(self.share, Unit::PERCENT),
            about.of,
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const ABOUT: Judged<'_> = Judged {
        key: "efficiency_pct",
        quantity: "efficiency of the motor",
        unit: Unit::PERCENT,
        at: (Unit::PERCENT, "load"),
        of: "",
        otherwise: FOLLOW_POINTS,
    };

    #[test]
    fn the_worst_point_counts() {
        // 0.02/0.5 = 4 %, 0.03/0.9 = 3.3 %
        let worst = Misfit::of_given([(0.5, 0.5, 0.52), (1.0, 0.9, 0.87)]);
        assert!((worst.share - 0.04).abs() < 1e-12 && (worst.at - 0.5).abs() < 1e-12);
        // 3 m of 60 m is 5 %
        assert!((Misfit::of_whole(60.0, [(0.0, 50.0, 53.0), (1.0, 40.0, 38.0)]).share - 0.05).abs() < 1e-12);
        assert!(Misfit::of_given([]).share <= 0.0);
    }

    #[test]
    fn three_and_eight_per_cent_are_the_limits() {
        let of = |share: f64| Misfit {
            share,
            at: 0.5,
            given: 0.6,
            fitted: 0.6 * (1.0 + share),
        };
        assert!(of(0.03).warning("motor", "m", &ABOUT).is_none() && of(0.031).warning("motor", "m", &ABOUT).is_some());
        assert!(of(0.08).check(&ABOUT).is_ok());
        assert_eq!(
            of(0.2).check(&ABOUT).unwrap_err().to_string(),
            "efficiency of the motor as fitted to the datasheet: 72% at 50% load, where it gives 60%: a difference of 20%; \
             allowed: up to 8%; compare the points with the datasheet; if they are right, write `curve = \
             \"through-points\"` in this file"
        );
    }
}
