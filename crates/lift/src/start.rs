//! How a drive starts and stops on the sun alone: it does not follow every cloud.

use daylift_units::fields::drive;
use daylift_units::{Fault, fingerprint};

/// Waits that hold where the drive's file gives none \[s\] (usual practice, no source).
pub const USUAL_WAITS_S: [f64; 4] = [300.0, 600.0, 1200.0, 1800.0];
/// Most waits that can be given.
const MOST_WAITS: usize = 6;

/// When a drive starts on the sun and how long it waits after a failure.
#[derive(Debug, Clone, PartialEq)]
pub struct StartRule {
    /// Power that the strings must be able to give, as a fraction of the drive's input at the start frequency.
    pub restart_power: f64,
    /// How long they must be able to give it \[s\].
    pub confirm_s: f64,
    /// Wait after the first, second … failure \[s\]; the last one repeats.
    pub waits_s: Vec<f64>,
}

fingerprint!(StartRule {
    restart_power,
    confirm_s,
    waits_s
});

impl StartRule {
    /// A drive that runs whenever the sun can run it.
    #[must_use]
    pub fn at_once() -> Self {
        Self {
            restart_power: 1.0,
            confirm_s: 0.0,
            waits_s: vec![0.0],
        }
    }

    /// Whether it never holds a start back.
    #[must_use]
    pub fn is_at_once(&self) -> bool {
        self.restart_power <= 1.0 && self.confirm_s <= 0.0 && self.waits_s.iter().all(|wait_s| *wait_s <= 0.0)
    }

    /// The wait after a number of failures \[s\]; 0 without a failure.
    ///
    /// ```
    /// use daylift_lift::StartRule;
    ///
    /// let rule = StartRule { waits_s: vec![300.0, 600.0], ..StartRule::at_once() };
    /// assert_eq!([0, 1, 2, 7].map(|failures| rule.wait_s(failures)), [0.0, 300.0, 600.0, 600.0]);
    /// ```
    #[must_use]
    pub fn wait_s(&self, failures: usize) -> f64 {
        let place = failures.min(self.waits_s.len());
        place.checked_sub(1).and_then(|place| self.waits_s.get(place)).copied().unwrap_or(0.0)
    }

    /// Faults of values out of range, and of a list of waits that is empty or too long.
    pub(crate) fn faults(&self) -> Vec<Fault> {
        let mut faults: Vec<Fault> = [
            drive::RESTART_POWER.check_si(self.restart_power),
            drive::RESTART_CONFIRM.check_si(self.confirm_s),
        ]
        .into_iter()
        .filter_map(Result::err)
        .collect();
        if (1..=MOST_WAITS).contains(&self.waits_s.len()) {
            faults.extend(self.waits_s.iter().find_map(|wait_s| drive::RETRY_WAIT.check_si(*wait_s).err()));
        } else {
            faults.push(Fault::new(
                drive::RETRY_WAIT.key,
                drive::RETRY_WAIT.quantity,
                format!("{} values", self.waits_s.len()),
                format!("1 to {MOST_WAITS} values"),
                "give one wait for each failure in a row; the last one repeats; [0] waits for nothing",
            ));
        }
        faults
    }
}
