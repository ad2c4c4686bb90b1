//! String plans: which strings share an input, and to which inverter and drive they go.

use daylift_array::StringGroup;
use daylift_plant::{Array, ByGroup, ByInverter, GroupId, InverterId, PlaneId, Plant, SetId};

/// Strings of one plane and one length, on at most one inverter and at most one drive.
#[derive(Debug, Clone, PartialEq)]
pub struct PlannedGroup {
    /// Name.
    pub name: String,
    /// Its plane.
    pub plane: PlaneId,
    /// Its inverter.
    pub inverter: Option<InverterId>,
    /// The pump set whose drive takes it in an outage.
    pub set: Option<SetId>,
    /// Its strings.
    pub strings: StringGroup,
    /// Strings on each MPPT input; its last input may have fewer.
    pub per_input: u32,
}

impl PlannedGroup {
    /// Strings on its fullest input.
    #[must_use]
    pub fn most_on_an_input(&self) -> u32 {
        self.per_input.min(self.strings.parallel())
    }
}

/// The string groups of the plant file.
///
/// Where the file does not give the strings per input, they are as few as possible with all groups of the inverter on its
/// inputs. They are one where the number of inputs is not known.
#[must_use]
pub fn groups_of_file(plant: &Plant, array: &Array) -> ByGroup<PlannedGroup> {
    let fewest: ByInverter<u32> = plant.feeders.keys().map(|i| fewest_per_input(plant, array, i)).collect();
    let planned = |group: &daylift_plant::Group| PlannedGroup {
        name: group.name.clone(),
        plane: group.plane,
        inverter: group.inverter,
        set: group.set,
        strings: group.strings.clone(),
        per_input: group.strings_per_input.or(group.inverter.map(|i| fewest[i])).unwrap_or(1),
    };
    array.groups.iter().map(planned).collect()
}

/// The fewest strings per input with which an inverter's groups fit on its inputs.
fn fewest_per_input(plant: &Plant, array: &Array, inverter: InverterId) -> u32 {
    let groups: Vec<_> = array.groups.iter().filter(|g| g.inverter == Some(inverter)).collect();
    let most = groups.iter().map(|g| g.strings.parallel()).max().unwrap_or(1);
    let Some(inputs) = plant.feeders[inverter].inverter.limits().inputs else {
        return 1;
    };
    let taken = |per_input: u32| -> u32 {
        groups
            .iter()
            .map(|g| g.strings.parallel().div_ceil(g.strings_per_input.unwrap_or(per_input).max(1)))
            .sum()
    };
    (1..most).find(|per_input| taken(*per_input) <= inputs).unwrap_or(most)
}

/// Inverters and drives that string groups link, with the modules of these groups.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SubArray {
    /// Its string groups, in the order of the plant file.
    pub groups: Vec<GroupId>,
    /// Its inverters.
    pub inverters: Vec<InverterId>,
    /// The pump sets whose drives it feeds.
    pub sets: Vec<SetId>,
    /// Its modules by plane and inverter.
    pub fields: Vec<ModuleField>,
}

/// The modules of one plane on one inverter, or on one drive without an inverter.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ModuleField {
    /// The plane.
    pub plane: PlaneId,
    /// The inverter.
    pub inverter: Option<InverterId>,
    /// Number of modules.
    pub modules: u32,
    /// The pump sets whose drives may take their strings.
    pub sets: Vec<SetId>,
}

impl SubArray {
    /// Name: the names of its inverters, or of its pump sets where it has no inverter.
    #[must_use]
    pub fn name(&self, plant: &Plant) -> String {
        let names: Vec<&str> = if self.inverters.is_empty() {
            self.sets.iter().map(|s| plant.sets[*s].name.as_str()).collect()
        } else {
            self.inverters.iter().map(|i| plant.feeders[*i].name.as_str()).collect()
        };
        names.join(", ")
    }

    /// The sub-arrays of a plant, in the order of their first groups.
    #[must_use]
    pub fn all(array: &Array) -> Vec<Self> {
        let mut out: Vec<Self> = Vec::new();
        for (g, group) in array.groups.iter_enumerated() {
            let mut joined = Self {
                groups: vec![g],
                inverters: group.inverter.into_iter().collect(),
                sets: group.set.into_iter().collect(),
                fields: Vec::new(),
            };
            // Sub-arrays that the new group links become one.
            let (linked, apart): (Vec<Self>, Vec<Self>) = out.into_iter().partition(|sub| sub.shares_with(&joined));
            out = apart;
            for sub in linked {
                joined.groups.extend(sub.groups);
                joined.inverters.extend(sub.inverters);
                joined.sets.extend(sub.sets);
            }
            sort_once_each(&mut joined.groups);
            sort_once_each(&mut joined.inverters);
            sort_once_each(&mut joined.sets);
            out.push(joined);
        }
        out.sort_by_key(|sub| sub.groups[0]);
        for sub in &mut out {
            sub.fields = sub.fields_of(array);
        }
        out
    }

    fn shares_with(&self, other: &Self) -> bool {
        other.inverters.iter().any(|i| self.inverters.contains(i)) || other.sets.iter().any(|s| self.sets.contains(s))
    }

    fn fields_of(&self, array: &Array) -> Vec<ModuleField> {
        let mut fields: Vec<ModuleField> = Vec::new();
        for group in self.groups.iter().map(|g| &array.groups[*g]) {
            // Strings without an inverter belong to one drive.
            let alone = group.inverter.is_none();
            let modules = group.strings.series() * group.strings.parallel();
            let same = |field: &&mut ModuleField| {
                field.plane == group.plane
                    && field.inverter == group.inverter
                    && (!alone || field.sets.first() == group.set.as_ref())
            };
            if let Some(field) = fields.iter_mut().find(same) {
                field.modules += modules;
                continue;
            }
            let sets = if alone {
                group.set.into_iter().collect()
            } else {
                let of_inverter =
                    self.groups.iter().map(|g| &array.groups[*g]).filter(|g| g.inverter == group.inverter);
                let mut sets: Vec<SetId> = of_inverter.filter_map(|g| g.set).collect();
                sort_once_each(&mut sets);
                sets
            };
            fields.push(ModuleField {
                plane: group.plane,
                inverter: group.inverter,
                modules,
                sets,
            });
        }
        fields
    }
}

/// Sorts a list and removes duplicates.
fn sort_once_each<T: Ord>(list: &mut Vec<T>) {
    list.sort_unstable();
    list.dedup();
}
