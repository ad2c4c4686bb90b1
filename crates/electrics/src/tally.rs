//! The numbers of strings and modules on each device, which the rules look at.

use daylift_plant::{InverterId, SetId};

use crate::plan::PlannedGroup;

/// How many strings of which length each device has in a plan.
#[derive(Debug, Clone, Default)]
pub(crate) struct Tally {
    /// For each drive that has strings.
    pub(crate) drives: Vec<DriveTally>,
    /// For each inverter that has strings.
    pub(crate) inverters: Vec<InverterTally>,
    /// Modules that are idle in an outage.
    pub(crate) idle_modules: u32,
}

/// Strings on a drive.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct DriveTally {
    pub(crate) set: SetId,
    pub(crate) series: u32,
    pub(crate) strings: u32,
    /// MPPT inputs that they are taken from.
    pub(crate) inputs: u32,
}

/// Strings on an inverter.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct InverterTally {
    pub(crate) inverter: InverterId,
    pub(crate) shortest: u32,
    pub(crate) longest: u32,
    pub(crate) strings: u32,
    pub(crate) modules: u32,
    /// Strings on the fullest input.
    pub(crate) on_input: u32,
    pub(crate) inputs: u32,
}

impl Tally {
    /// Counts string groups.
    pub(crate) fn of(groups: &[PlannedGroup]) -> Self {
        let mut out = Self::default();
        for group in groups {
            let (series, strings) = (group.strings.series(), group.strings.parallel());
            out.add(group.inverter, group.set, series, strings, group.per_input);
        }
        out
    }

    /// Adds strings of one length, which share no input with others.
    pub(crate) fn add(
        &mut self,
        inverter: Option<InverterId>,
        set: Option<SetId>,
        series: u32,
        strings: u32,
        per_input: u32,
    ) {
        if strings == 0 {
            return;
        }
        let inputs = inverter.map_or(0, |_| strings.div_ceil(per_input.max(1)));
        if let Some(inverter) = inverter {
            let on_input = per_input.min(strings);
            match self.inverters.iter_mut().find(|i| i.inverter == inverter) {
                Some(i) => {
                    i.shortest = i.shortest.min(series);
                    i.longest = i.longest.max(series);
                    i.strings += strings;
                    i.modules += strings * series;
                    i.on_input = i.on_input.max(on_input);
                    i.inputs += inputs;
                }
                None => self.inverters.push(InverterTally {
                    inverter,
                    shortest: series,
                    longest: series,
                    strings,
                    modules: strings * series,
                    on_input,
                    inputs,
                }),
            }
        }
        match set {
            Some(set) => match self.drives.iter_mut().find(|d| d.set == set) {
                Some(d) => {
                    d.strings += strings;
                    d.inputs += inputs;
                }
                None => self.drives.push(DriveTally {
                    set,
                    series,
                    strings,
                    inputs,
                }),
            },
            None => self.idle_modules += strings * series,
        }
    }

    /// Modules in series of the longest string.
    pub(crate) fn longest(&self) -> Option<u32> {
        let on_drives = self.drives.iter().map(|d| d.series);
        on_drives.chain(self.inverters.iter().map(|i| i.longest)).max()
    }
}
