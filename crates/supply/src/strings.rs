//! The string groups that feed one device, in one step.

use daylift_array::{CableLoss, OnBus, StringGroup};
use daylift_plant::GroupId;
use daylift_units::TrackingLoss;
use smallvec::SmallVec;

use crate::dc::DcYear;

/// Groups in parallel on one device.
#[derive(Debug, Clone)]
pub struct Feeding<'a> {
    groups: Vec<(GroupId, &'a StringGroup)>,
    tracking: TrackingLoss,
}

/// What the groups of a device offer together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Offered {
    /// Power \[W\].
    pub power_w: f64,
    /// The part of it that the device's tracking leaves \[W\].
    pub tracked_w: f64,
    /// Lowest voltage of the groups that give power \[V\].
    pub least_v: f64,
    /// Their cables taken as one. The fraction lost rises with the power drawn; all groups give in proportion.
    pub cable: CableLoss,
}

impl<'a> Feeding<'a> {
    /// The groups for which `feeds` is true.
    #[must_use]
    pub fn new(groups: &[(GroupId, &'a StringGroup)], feeds: impl Fn(GroupId) -> bool) -> Self {
        Self {
            groups: groups.iter().copied().filter(|(i, _)| feeds(*i)).collect(),
            tracking: TrackingLoss::NONE,
        }
    }

    /// The same groups on a device that misses a part of their maximum power; before, it misses nothing.
    #[must_use]
    pub fn tracked_by(&self, tracking: TrackingLoss) -> Self {
        Self {
            groups: self.groups.clone(),
            tracking,
        }
    }

    /// Whether no group feeds the device.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.groups.is_empty()
    }

    /// The ids of the groups.
    pub fn indices(&self) -> impl Iterator<Item = GroupId> {
        self.groups.iter().map(|(i, _)| *i)
    }

    /// What they offer at their maximum-power points.
    #[must_use]
    pub fn at_max_power(&self, dc: &DcYear, step: usize) -> Offered {
        let offered = self.sum(|i, _| (dc.groups[i].available_w.at(step), dc.groups[i].max_power_v[step]));
        Offered {
            tracked_w: self.tracking.left_w(offered.power_w, dc.broken(step)),
            ..offered
        }
    }

    /// What they offer to inverter inputs that track between two voltages \[V\], each group separately. `tracked_w` counts
    /// no loss here: it belongs to the maximum-power points.
    #[must_use]
    pub fn at_window(&self, dc: &DcYear, step: usize, least_v: f64, greatest_v: f64) -> Offered {
        self.sum(|i, group| {
            let max_power_v = dc.groups[i].max_power_v[step];
            let power_w = if (least_v..=greatest_v).contains(&max_power_v) {
                dc.groups[i].available_w.at(step)
            } else {
                dc.curve(i, group, step).power_at_window(least_v, greatest_v)
            };
            (power_w, max_power_v.clamp(least_v, greatest_v))
        })
    }

    /// Their curves, for a bus on which they share one voltage.
    #[must_use]
    pub fn on_bus(&self, dc: &DcYear, step: usize) -> SmallVec<[OnBus; 2]> {
        let on_bus = |&(i, group): &(GroupId, &StringGroup)| OnBus {
            curve: dc.curve(i, group, step),
            peak: dc.peak(i, step),
            cable: group.cable(),
        };
        self.groups.iter().map(on_bus).collect()
    }

    fn sum(&self, of_group: impl Fn(GroupId, &StringGroup) -> (f64, f64)) -> Offered {
        let (mut power_w, mut lost_w, mut least_v) = (0.0, 0.0, f64::INFINITY);
        for &(i, group) in &self.groups {
            let (w, v) = of_group(i, group);
            power_w += w;
            lost_w += w * group.cable_fraction(w);
            if w > 0.0 {
                least_v = least_v.min(v);
            }
        }
        let fraction = if power_w > 0.0 { lost_w / power_w } else { 0.0 };
        Offered {
            power_w,
            tracked_w: power_w,
            least_v,
            cable: CableLoss::new(fraction, power_w.max(1.0)),
        }
    }
}
