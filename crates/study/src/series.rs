//! Series by step, for files and pictures.

use daylift_supply::{LossCause, Piece, Recorder};
use daylift_units::Axis;

/// Means over each step; powers in W, flows in m³/s, content at the end of the step in m³.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct StepMeans {
    /// Share of the step with the utility there.
    pub utility: f64,
    /// Power at the maximum-power point.
    pub available_w: f64,
    /// Array power at the motor's terminals.
    pub array_to_pump_w: f64,
    /// Array power to the loads.
    pub array_to_loads_w: f64,
    /// Array power into the battery.
    pub array_to_battery_w: f64,
    /// Array power exported.
    pub exported_w: f64,
    /// Array power lost, all causes together.
    pub lost_w: f64,
    /// Grid power at the meter.
    pub imported_w: f64,
    /// Grid power at the motor's terminals.
    pub grid_to_pump_w: f64,
    /// Power at the battery's terminals: out of it above 0, into it below.
    pub battery_w: f64,
    /// Output of the generating set.
    pub generator_w: f64,
    /// Battery content at the end \[J\].
    pub battery_j: f64,
    /// Power the loads want.
    pub load_w: f64,
    /// Load not served.
    pub unserved_w: f64,
    /// Water pumped.
    pub pumped_m3_s: f64,
    /// Water wanted.
    pub demand_m3_s: f64,
    /// Water delivered.
    pub delivered_m3_s: f64,
    /// Tank content at the end.
    pub tank_m3: f64,
    /// Frequency of the drive, mean over the step \[Hz\].
    pub hz: f64,
    /// The cause that lost most in this step.
    pub main_loss: Option<LossCause>,
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
    /// Ready for a year.
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
        means.available_w += p.available_w * share;
        means.array_to_pump_w += p.array_to_pump_w * share;
        means.array_to_loads_w += p.array_to_loads_w * share;
        means.exported_w += p.exported_w * share;
        means.lost_w += p.lost_w.iter().sum::<f64>() * share;
        means.array_to_battery_w += p.array_to_battery_w * share;
        means.imported_w += p.grid.given_w * share;
        means.grid_to_pump_w += p.grid.to_pump_w * share;
        means.battery_w -= p.battery_flow().net_w() * share;
        means.generator_w += p.generator.given_w * share;
        means.load_w += p.load_w * share;
        means.unserved_w += p.unserved_w * share;
        means.pumped_m3_s += p.pumped_m3_s * share;
        means.demand_m3_s += p.demand_m3_s * share;
        means.delivered_m3_s += p.delivered_m3_s * share;
        means.hz += p.hz * share;
        means.tank_m3 = p.tank_m3;
        means.battery_j = p.battery_j;
        for (sum, w) in self.lost_j.iter_mut().zip(&p.lost_w) {
            *sum += w * p.length_s;
        }
        means.main_loss = LossCause::ALL
            .into_iter()
            .filter(|c| self.lost_j[c.index()] > 0.0)
            .rev()
            .max_by(|a, b| self.lost_j[a.index()].total_cmp(&self.lost_j[b.index()]));
    }
}
