//! Records a year as a series of steps, for files and charts.

use daylift_supply::{Flow, LossCause, Piece, Recorder};
use daylift_units::Axis;

/// Means over a step, and contents at its end.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct StepMeans {
    /// Share of the step in which the grid is on.
    pub utility: f64,
    /// Mean rates of [`Flow::OF_STEPS`] \[W or m³/s\].
    flows: [f64; Flow::OF_STEPS.len()],
    /// Array power lost, all causes together \[W\].
    pub lost_w: f64,
    /// Power at the battery's terminals \[W\]: positive when it discharges, negative when it charges.
    pub battery_w: f64,
    /// Battery content at the end \[J\].
    pub battery_j: f64,
    /// Tank content at the end \[m³\].
    pub tank_m3: f64,
    /// Frequency of the drive, mean over the step \[Hz\].
    pub hz: f64,
    /// The cause of the largest loss in this step; `None` when nothing is lost.
    pub main_loss: Option<LossCause>,
}

impl StepMeans {
    /// Mean rates of the flows in a series, in the order of [`Flow::OF_STEPS`] \[W or m³/s\].
    #[must_use]
    pub fn flows(&self) -> &[f64] {
        &self.flows
    }

    /// Mean rate of a flow \[W or m³/s\]; `None` for a flow that series do not have.
    #[must_use]
    pub fn of(&self, flow: Flow) -> Option<f64> {
        let at = Flow::OF_STEPS.iter().position(|held| *held == flow)?;
        self.flows.get(at).copied()
    }
}

/// Records every step of a year.
#[derive(Debug, Clone, PartialEq)]
pub struct Series {
    step_s: f64,
    steps: Vec<StepMeans>,
    lost_j: [f64; LossCause::COUNT],
    open_step: Option<usize>,
}

impl Series {
    /// An empty series for a year.
    #[must_use]
    pub fn new(axis: &Axis) -> Self {
        Self {
            step_s: axis.step_s(),
            steps: vec![StepMeans::default(); axis.steps()],
            lost_j: [0.0; LossCause::COUNT],
            open_step: None,
        }
    }

    /// The steps in order.
    #[must_use]
    pub fn steps(&self) -> &[StepMeans] {
        &self.steps
    }
}

impl Recorder for Series {
    fn piece(&mut self, step: usize, p: &Piece) {
        if self.open_step != Some(step) {
            self.lost_j = [0.0; LossCause::COUNT];
            self.open_step = Some(step);
        }
        let Some(means) = self.steps.get_mut(step) else { return };
        let share = p.length_s / self.step_s;
        if p.utility {
            means.utility += share;
        }
        for (mean, flow) in means.flows.iter_mut().zip(Flow::OF_STEPS) {
            *mean += p[flow] * share;
        }
        means.lost_w += p.lost_w().iter().sum::<f64>() * share;
        means.battery_w -= p.battery_flow().net_w() * share;
        means.hz += p.hz * share;
        means.tank_m3 = p.tank_m3;
        means.battery_j = p.battery_j;
        for (sum, w) in self.lost_j.iter_mut().zip(p.lost_w()) {
            *sum += w * p.length_s;
        }
        means.main_loss = LossCause::ALL
            .into_iter()
            .filter(|c| self.lost_j[c.index()] > 0.0)
            .rev()
            .max_by(|a, b| self.lost_j[a.index()].total_cmp(&self.lost_j[b.index()]));
    }
}
