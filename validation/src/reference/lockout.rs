//! When a drive on the sun alone may start again (§8a).

use super::devices::Restarting;

/// A run as long as this forgets the failures before it \[s\].
const LONG_RUN_S: f64 = 1800.0;

/// What the sun offers a set in a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Sun {
    /// The strings have no power.
    Dark,
    /// The set cannot run.
    TooLittle,
    /// It can run, but not start.
    Enough,
    /// It can start.
    Ready,
}

/// The state of a set's drive at the beginning of a step.
#[derive(Debug, Clone)]
struct Drive<'a> {
    rule: &'a Restarting,
    /// Length of the run so far; `None` while it stands \[s\].
    run_s: Option<f64>,
    failures: usize,
    wait_s: f64,
    confirm_s: f64,
}

/// Share of each step in which the set runs, or stands ready for want of sun alone.
///
/// Where the set cannot run, the value is 0.
pub(super) fn shares(rule: &Restarting, step_s: f64, suns: impl Iterator<Item = Sun>) -> Vec<f64> {
    let mut drive = Drive {
        rule,
        run_s: None,
        failures: 0,
        wait_s: 0.0,
        confirm_s: rule.confirm_s,
    };
    suns.map(|sun| drive.step(step_s, sun)).collect()
}

impl Drive<'_> {
    fn step(&mut self, step_s: f64, sun: Sun) -> f64 {
        let can_run = matches!(sun, Sun::Enough | Sun::Ready);
        if let Some(run_s) = self.run_s {
            if can_run {
                self.runs_on(run_s + step_s);
                return 1.0;
            }
            self.fail();
        }
        if sun == Sun::Dark {
            self.failures = 0;
            self.wait_s = 0.0;
        }
        if sun != Sun::Ready {
            self.confirm_s = self.rule.confirm_s;
            self.wait_s = (self.wait_s - step_s).max(0.0);
            return 0.0;
        }
        let starts_s = self.wait_s + self.confirm_s;
        if starts_s < step_s {
            self.runs_on(step_s - starts_s);
            self.wait_s = 0.0;
            return 1.0 - starts_s / step_s;
        }
        let waited_s = self.wait_s.min(step_s);
        self.wait_s -= waited_s;
        self.confirm_s -= step_s - waited_s;
        0.0
    }

    fn runs_on(&mut self, run_s: f64) {
        self.run_s = Some(run_s);
        if run_s >= LONG_RUN_S {
            self.failures = 0;
        }
    }

    fn fail(&mut self) {
        self.run_s = None;
        let waits_s = &self.rule.waits_s;
        self.wait_s = waits_s.get(self.failures).or(waits_s.last()).copied().unwrap_or(0.0);
        self.failures += 1;
    }
}

#[cfg(test)]
mod tests {
    use super::Sun::{Dark, Enough, Ready, TooLittle};
    use super::*;

    fn rule() -> Restarting {
        Restarting {
            power: 1.25,
            confirm_s: 60.0,
            waits_s: vec![300.0, 600.0, 1200.0],
        }
    }

    fn assert_shares(rule: &Restarting, step_s: f64, cases: &[(Sun, f64)]) {
        let found = shares(rule, step_s, cases.iter().map(|case| case.0));
        for (i, (case, share)) in cases.iter().zip(found).enumerate() {
            assert!((case.1 - share).abs() < 1e-12, "step {i}: {share}");
        }
    }

    #[test]
    fn it_confirms_and_then_runs_as_long_as_it_can() {
        // By hand: 60 s of an hour to confirm, 59/60 left. Less sun keeps it running, but does not start it.
        let cases = [
            (Dark, 0.0),
            (Enough, 0.0),
            (Ready, 59.0 / 60.0),
            (Enough, 1.0),
            (Ready, 1.0),
            (Dark, 0.0),
        ];
        assert_shares(&rule(), 3600.0, &cases);
    }

    #[test]
    fn each_failure_in_short_runs_waits_longer() {
        // By hand, in steps of 10 min: first start after 60 s (0.9 of the step). Failure 1: its 300 s pass in the step
        // without sun. Failure 2 waits 600 s, of which all pass. Failure 3 waits 1200 s: 600 s pass, then 600 s of a
        // ready step, and it starts 60 s into the next one. Failure 4 waits 1200 s again.
        let cases = [
            (Ready, 0.9),
            (TooLittle, 0.0),
            (Ready, 0.9),
            (TooLittle, 0.0),
            (Ready, 0.9),
            (TooLittle, 0.0),
            (Ready, 0.0),
            (Ready, 0.9),
            (TooLittle, 0.0),
            (Ready, 0.0),
            (Ready, 0.9),
        ];
        assert_shares(&rule(), 600.0, &cases);
    }

    #[test]
    fn half_an_hour_of_running_forgets_the_failures() {
        let rule = Restarting {
            waits_s: vec![300.0, 1800.0],
            ..rule()
        };
        // By hand, in steps of 10 min: 540 s run, failure 1 (300 s). Then 540 + 600 + 600 = 1740 s: not long enough, so
        // failure 2 waits 1800 s. Then 2340 s: forgotten, so the next failure waits 300 s, which pass at once.
        let cases = [
            (Ready, 0.9),
            (TooLittle, 0.0),
            (Ready, 0.9),
            (Ready, 1.0),
            (Ready, 1.0),
            (TooLittle, 0.0),
            (Ready, 0.0),
            (Ready, 0.0),
            (Ready, 0.9),
            (Enough, 1.0),
            (Enough, 1.0),
            (Enough, 1.0),
            (TooLittle, 0.0),
            (Ready, 0.9),
        ];
        assert_shares(&rule, 600.0, &cases);
    }

    #[test]
    fn the_wait_begins_with_the_step_of_the_failure() {
        // By hand, in steps of 1 min: 60 s to confirm are a whole step. After the failure 300 s, of which its own step is
        // one minute, then 60 s.
        let mut cases = vec![(Ready, 0.0), (Ready, 1.0), (TooLittle, 0.0)];
        cases.extend([(Ready, 0.0); 5]);
        cases.push((Ready, 1.0));
        assert_shares(&rule(), 60.0, &cases);
    }

    #[test]
    fn darkness_ends_wait_and_count() {
        // By hand, in steps of 1 min: after darkness only the confirmation is left.
        let cases = [
            (Ready, 0.0),
            (Ready, 1.0),
            (TooLittle, 0.0),
            (Dark, 0.0),
            (Ready, 0.0),
            (Ready, 1.0),
        ];
        assert_shares(&rule(), 60.0, &cases);
    }

    #[test]
    fn a_break_makes_the_confirmation_begin_again() {
        let slow = Restarting {
            confirm_s: 150.0,
            ..rule()
        };
        // By hand, in steps of 1 min: 2 min ready, a break, then 2.5 min.
        let suns = [Ready, Ready, Enough, Ready, Ready, Ready];
        let found = shares(&slow, 60.0, suns.into_iter());
        assert_eq!(found, [0.0, 0.0, 0.0, 0.0, 0.0, 0.5]);
    }

    #[test]
    fn a_neutral_rule_locks_nothing_out() {
        let neutral = Restarting::default();
        let suns = [Ready, TooLittle, Ready, TooLittle, TooLittle, Ready, Dark, Ready];
        let found = shares(&neutral, 600.0, suns.into_iter());
        assert_eq!(found, [1.0, 0.0, 1.0, 0.0, 0.0, 1.0, 0.0, 1.0]);
    }
}
