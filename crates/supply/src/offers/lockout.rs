//! Starting and stopping on the sun alone: a drive does not follow every cloud (`docs/model.md` §8a).
//!
//! The rule goes through the year in order, as if water were always wanted, so it does not depend on the tank.

use daylift_lift::StartRule;

use crate::cause::{LossCause, ShortfallCause};
use crate::limits::Cuts;
use crate::offers::drive::DriveOffer;

/// A run of this length makes the earlier failures forgotten \[s\].
const LONG_RUN_S: f64 = 1800.0;

/// What the sun allows in a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Sun {
    /// The strings give nothing.
    Dark,
    /// The set cannot run.
    TooLittle,
    /// A running set keeps running, a stopped one does not start.
    Enough,
    /// A stopped set may start.
    Ready,
}

/// A set on its drive, from step to step.
#[derive(Debug, Clone)]
pub(super) struct Lockout {
    rule: StartRule,
    step_s: f64,
    /// How long it has been running \[s\]; `None` while it is stopped.
    running_s: Option<f64>,
    failures: usize,
    wait_s: f64,
    /// Confirmation that is still needed \[s\].
    confirm_s: f64,
}

impl Lockout {
    /// A set that begins the year stopped; `None` where the rule holds no start back.
    pub(super) fn new(rule: &StartRule, step_s: f64) -> Option<Self> {
        (!rule.is_at_once()).then(|| Self {
            running_s: None,
            failures: 0,
            wait_s: 0.0,
            confirm_s: rule.confirm_s,
            rule: rule.clone(),
            step_s,
        })
    }

    /// The share of the next step in which it runs: from its start to the end of the step.
    pub(super) fn share(&mut self, sun: Sun) -> f64 {
        let can_run = matches!(sun, Sun::Enough | Sun::Ready);
        match self.running_s {
            Some(running_s) if can_run => {
                self.running_s = Some(running_s + self.step_s);
                return 1.0;
            }
            Some(running_s) => self.fail(running_s),
            None => {}
        }
        if sun == Sun::Dark {
            (self.failures, self.wait_s) = (0, 0.0);
        }
        if sun != Sun::Ready {
            self.wait_s = (self.wait_s - self.step_s).max(0.0);
            self.confirm_s = self.rule.confirm_s;
            return 0.0;
        }
        let start_s = self.wait_s + self.confirm_s;
        if start_s < self.step_s {
            self.running_s = Some(self.step_s - start_s);
            return 1.0 - start_s / self.step_s;
        }
        let confirmed_s = (self.step_s - self.wait_s).max(0.0);
        self.wait_s = (self.wait_s - self.step_s).max(0.0);
        self.confirm_s = (self.confirm_s - confirmed_s).max(0.0);
        0.0
    }

    fn fail(&mut self, after_s: f64) {
        if after_s >= LONG_RUN_S {
            self.failures = 0;
        }
        self.failures += 1;
        self.running_s = None;
        self.wait_s = self.rule.wait_s(self.failures);
        self.confirm_s = self.rule.confirm_s;
    }
}

impl DriveOffer {
    /// The same set when it stands for a part of the step and runs for the share that is left. What its strings offer while
    /// it stands is locked out. The frequency stays that of running.
    pub(super) fn running_for(&self, share: f64) -> Self {
        if share >= 1.0 {
            return *self;
        }
        let cuts = Cuts::of(LossCause::StartLockout, self.available_w * (1.0 - share));
        if share <= 0.0 {
            return Self {
                held_back_by: ShortfallCause::TooLittleSun,
                ..Self::stopped(self.available_w, cuts)
            };
        }
        Self {
            available_w: self.available_w,
            array_w: self.array_w * share,
            dc_cable_w: self.dc_cable_w * share,
            mains_w: self.mains_w * share,
            drive_loss_w: self.drive_loss_w * share,
            motor_cable_w: self.motor_cable_w * share,
            motor_w: self.motor_w * share,
            flow_m3_s: self.flow_m3_s * share,
            hz: self.hz,
            cuts: cuts.then(&self.cuts, share),
            held_back_by: ShortfallCause::TooLittleSun,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Sun::{Dark, Enough, Ready, TooLittle};
    use super::*;
    use crate::limits::Ladder;

    fn shares(step_s: f64, waits_s: &[f64], days: &[(Sun, f64)]) {
        let rule = StartRule {
            restart_power: 1.25,
            confirm_s: 60.0,
            waits_s: waits_s.to_vec(),
        };
        let mut lockout = Lockout::new(&rule, step_s).unwrap();
        for (step, (sun, worked)) in days.iter().enumerate() {
            let share = lockout.share(*sun);
            assert!((share - worked).abs() < 1e-12, "step {step}: {share} against {worked}");
        }
    }

    #[test]
    fn at_one_minute_a_start_waits_whole_steps() {
        // Worked by hand; confirmation 60 s, waits 300 s and 600 s.
        let days = [
            (Dark, 0.0),
            // 0 s of wait and 60 s of confirmation are not less than the step: the next one starts at its beginning.
            (Ready, 0.0),
            (Ready, 1.0),
            // A running set needs only enough.
            (Enough, 1.0),
            // First failure: 300 s of wait from here, of which 60 s pass in this step and 240 s in the next four.
            (TooLittle, 0.0),
            (Ready, 0.0),
            (Ready, 0.0),
            (Ready, 0.0),
            (Ready, 0.0),
            // A minute of confirmation, which a step that is not ready would begin again.
            (Ready, 0.0),
            (Ready, 1.0),
            // Second failure: 600 s, which the dark step ends.
            (TooLittle, 0.0),
            (Dark, 0.0),
            (Ready, 0.0),
            // Not ready: the confirmation begins again.
            (Enough, 0.0),
            (Ready, 0.0),
            (Ready, 1.0),
            // Failures were set back to 0, so this is the first: 300 s, over after five steps.
            (TooLittle, 0.0),
            (TooLittle, 0.0),
            (TooLittle, 0.0),
            (TooLittle, 0.0),
            (TooLittle, 0.0),
            (Ready, 0.0),
            (Ready, 1.0),
        ];
        shares(60.0, &[300.0, 600.0], &days);
    }

    #[test]
    fn at_ten_minutes_a_start_falls_within_a_step() {
        // Worked by hand; confirmation 60 s, waits 300 s and 900 s.
        let days = [
            (Dark, 0.0),
            // Starts after 60 of 600 s.
            (Ready, 0.9),
            (Enough, 1.0),
            // Ran for 540 + 600 s: the first failure. Its 300 s pass in this step.
            (TooLittle, 0.0),
            (Enough, 0.0),
            (Ready, 0.9),
            // Ran for 540 s: the second failure. Of 900 s, 600 s pass in this step; then 300 + 60 s to the start.
            (TooLittle, 0.0),
            (Ready, 0.4),
            (Ready, 1.0),
            (Ready, 1.0),
            // Ran for 240 + 1200 s: the third, with the last wait again. It passes in this step and in half of the next.
            (TooLittle, 0.0),
            (TooLittle, 0.0),
            (Ready, 0.9),
            (Ready, 1.0),
            (Ready, 1.0),
            (Ready, 1.0),
            // Ran for 540 + 1800 s, which sets the count back to 0: a first failure of 300 s.
            (TooLittle, 0.0),
            (Ready, 0.9),
        ];
        shares(600.0, &[300.0, 900.0], &days);
    }

    #[test]
    fn a_rule_that_holds_nothing_back_is_no_lockout() {
        assert!(Lockout::new(&StartRule::at_once(), 60.0).is_none());
    }

    #[test]
    fn a_step_of_a_start_counts_for_its_share() {
        // Worked by hand: of 1000 W the set takes 800 W and cuts 200 W. Running for 0.9 of the step it takes 720 W and cuts
        // 180 W; the 100 W of the rest are locked out.
        let mut ladder = Ladder::new(1000.0);
        ladder.cut_to(LossCause::PumpAtFullSpeed, 800.0);
        let whole = DriveOffer {
            array_w: 800.0,
            motor_w: 700.0,
            drive_loss_w: 60.0,
            motor_cable_w: 30.0,
            dc_cable_w: 10.0,
            flow_m3_s: 0.01,
            hz: 50.0,
            ..DriveOffer::stopped(1000.0, ladder.cuts)
        };
        let part = whole.running_for(0.9);
        let found = [part.array_w, part.motor_w, part.flow_m3_s, part.hz, part.available_w];
        for (found, worked) in found.into_iter().zip([720.0, 630.0, 0.009, 50.0, 1000.0]) {
            assert!((found - worked).abs() < 1e-9, "{found} against {worked}");
        }
        let causes = [(LossCause::StartLockout, 100.0), (LossCause::PumpAtFullSpeed, 180.0)];
        assert_eq!(part.cuts.parts().len(), 2);
        for (found, worked) in part.cuts.parts().iter().zip(causes) {
            assert!(found.0 == worked.0 && (found.1 - worked.1).abs() < 1e-9, "{found:?}");
        }
        let standing = whole.running_for(0.0);
        assert_eq!(standing.cuts.parts(), [(LossCause::StartLockout, 1000.0)]);
        assert!(standing.flow_m3_s == 0.0 && standing.hz == 0.0 && standing.array_w == 0.0);
        assert_eq!(whole.running_for(1.0), whole);
    }
}
