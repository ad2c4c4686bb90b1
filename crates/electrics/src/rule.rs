//! The rules for strings: ids, weights, units, and the values that each depends on.

/// How serious a finding is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Weight {
    /// A violation: do not build.
    Forbids,
    /// A warning: it may be built, and costs something.
    Warns,
    /// A note.
    Notes,
}

impl Weight {
    /// Id in results.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::Forbids => "forbids",
            Self::Warns => "warns",
            Self::Notes => "notes",
        }
    }
}

/// A rule for strings, in the order of reports. Cold voltages are of the open circuit on the coldest morning.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Rule {
    /// The cold voltage is at most the drive's maximum DC voltage.
    ColdVoltageOnDrive,
    /// The cold voltage is at most the inverter's maximum DC voltage.
    ColdVoltageOnInverter,
    /// The cold voltage is at most the module's system voltage.
    ColdVoltageOfModule,
    /// The maximum-power voltage at a hot noon is at least the lower edge of the MPPT window.
    MpptFloor,
    /// The maximum-power voltage in full sun and the coldest air is at most the upper edge of the MPPT window.
    MpptCeiling,
    /// The open-circuit voltage at a hot noon is at least the DC voltage at which the drive starts.
    DriveStart,
    /// The pump can run at a hot noon: it reaches its start frequency.
    PumpSpeed,
    /// The pump's speed at a hot noon is useful.
    UsefulSpeed,
    /// No more strings are on one MPPT input than fit.
    StringsOnInput,
    /// No more MPPT inputs are taken than the inverter has.
    Inputs,
    /// Short-circuit current on an MPPT input.
    ShortCircuitOnInput,
    /// Operating current on an MPPT input.
    CurrentOnInput,
    /// Short-circuit current on the drive.
    ShortCircuitOnDrive,
    /// Operating current on the drive.
    CurrentOnDrive,
    /// PV power on the inverter.
    PowerOnInverter,
    /// PV power on the drive.
    PowerOnDrive,
    /// Where strings on the inverter need fuses, a suitable rating exists.
    FuseOnInverter,
    /// Where strings on the drive need fuses, a suitable rating exists.
    FuseOnDrive,
}

impl Rule {
    /// All rules, in order.
    pub const ALL: [Self; 18] = [
        Self::ColdVoltageOnDrive,
        Self::ColdVoltageOnInverter,
        Self::ColdVoltageOfModule,
        Self::MpptFloor,
        Self::MpptCeiling,
        Self::DriveStart,
        Self::PumpSpeed,
        Self::UsefulSpeed,
        Self::StringsOnInput,
        Self::Inputs,
        Self::ShortCircuitOnInput,
        Self::CurrentOnInput,
        Self::ShortCircuitOnDrive,
        Self::CurrentOnDrive,
        Self::PowerOnInverter,
        Self::PowerOnDrive,
        Self::FuseOnInverter,
        Self::FuseOnDrive,
    ];

    /// Id in results.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::ColdVoltageOnDrive => "cold-voltage-on-drive",
            Self::ColdVoltageOnInverter => "cold-voltage-on-inverter",
            Self::ColdVoltageOfModule => "cold-voltage-of-module",
            Self::MpptFloor => "mppt-floor",
            Self::MpptCeiling => "mppt-ceiling",
            Self::DriveStart => "drive-start",
            Self::PumpSpeed => "pump-speed",
            Self::UsefulSpeed => "useful-speed",
            Self::StringsOnInput => "strings-on-input",
            Self::Inputs => "inputs",
            Self::ShortCircuitOnInput => "short-circuit-on-input",
            Self::CurrentOnInput => "current-on-input",
            Self::ShortCircuitOnDrive => "short-circuit-on-drive",
            Self::CurrentOnDrive => "current-on-drive",
            Self::PowerOnInverter => "power-on-inverter",
            Self::PowerOnDrive => "power-on-drive",
            Self::FuseOnInverter => "fuse-on-inverter",
            Self::FuseOnDrive => "fuse-on-drive",
        }
    }

    /// How serious a violation is.
    #[must_use]
    pub const fn weight(self) -> Weight {
        match self {
            Self::MpptCeiling | Self::UsefulSpeed | Self::CurrentOnInput | Self::CurrentOnDrive => Weight::Warns,
            _ => Weight::Forbids,
        }
    }

    /// Unit of value and limit as printed; empty for a count. Powers are W in [`crate::Measure`] and printed in kW.
    #[must_use]
    pub const fn unit(self) -> &'static str {
        match self {
            Self::ColdVoltageOnDrive
            | Self::ColdVoltageOnInverter
            | Self::ColdVoltageOfModule
            | Self::MpptFloor
            | Self::MpptCeiling
            | Self::DriveStart => "V",
            Self::PumpSpeed | Self::UsefulSpeed => "Hz",
            Self::StringsOnInput | Self::Inputs => "",
            Self::ShortCircuitOnInput
            | Self::CurrentOnInput
            | Self::ShortCircuitOnDrive
            | Self::CurrentOnDrive
            | Self::FuseOnInverter
            | Self::FuseOnDrive => "A",
            Self::PowerOnInverter | Self::PowerOnDrive => "kW",
        }
    }

    /// Whether the limit is a maximum; otherwise it is a minimum.
    #[must_use]
    pub const fn is_ceiling(self) -> bool {
        !matches!(
            self,
            Self::MpptFloor | Self::DriveStart | Self::PumpSpeed | Self::UsefulSpeed
        )
    }

    /// A value in the unit in which it is printed: powers in kW.
    #[must_use]
    pub fn printed_value(self, value: f64) -> f64 {
        match self {
            Self::PowerOnInverter | Self::PowerOnDrive => value / 1e3,
            _ => value,
        }
    }

    /// Whether it depends only on the number of modules in series.
    #[must_use]
    pub const fn depends_on_length_only(self) -> bool {
        matches!(
            self,
            Self::ColdVoltageOnDrive
                | Self::ColdVoltageOnInverter
                | Self::ColdVoltageOfModule
                | Self::MpptFloor
                | Self::MpptCeiling
                | Self::DriveStart
        )
    }

    /// Values that must be given and confirmed for a verdict by this rule, as keys with their section.
    #[must_use]
    pub const fn required_keys(self) -> &'static [&'static str] {
        match self {
            Self::ColdVoltageOnDrive => &["site.record_low_c", "drive.greatest_dc_v"],
            Self::ColdVoltageOnInverter => &["site.record_low_c", "inverter.greatest_dc_v"],
            Self::ColdVoltageOfModule => &["site.record_low_c", "module.system_voltage_v"],
            Self::MpptFloor => &["site.record_high_c", "inverter.mppt_min_v"],
            Self::MpptCeiling => &["site.record_low_c", "inverter.mppt_max_v"],
            Self::DriveStart => &["site.record_high_c", "drive.start_dc_v"],
            Self::PumpSpeed | Self::UsefulSpeed => &["site.record_high_c", "well.static_level_m"],
            Self::StringsOnInput => &["inverter.strings_per_input", STRINGS_PER_INPUT],
            Self::Inputs => &["inverter.mppt_inputs", STRINGS_PER_INPUT],
            Self::ShortCircuitOnInput => &["inverter.input_short_circuit_a", STRINGS_PER_INPUT],
            Self::CurrentOnInput => &["inverter.input_current_a", STRINGS_PER_INPUT],
            Self::ShortCircuitOnDrive => &["drive.dc_short_circuit_a"],
            Self::CurrentOnDrive => &["drive.dc_current_a"],
            Self::PowerOnInverter => &["inverter.greatest_dc_power_kw"],
            Self::PowerOnDrive => &["drive.greatest_dc_power_kw"],
            Self::FuseOnInverter => &["module.greatest_fuse_a", STRINGS_PER_INPUT],
            Self::FuseOnDrive => &["module.greatest_fuse_a"],
        }
    }

    /// Sections without a value marked as `assumed` or `generic`, for a verdict by this rule. Defaults in them are
    /// accepted as usual practice.
    #[must_use]
    pub const fn required_sections(self) -> &'static [&'static str] {
        match self {
            Self::ColdVoltageOfModule => &["module", "array"],
            Self::ColdVoltageOnDrive | Self::DriveStart | Self::FuseOnDrive => &["module", "array", "drive"],
            Self::ShortCircuitOnDrive | Self::CurrentOnDrive | Self::PowerOnDrive => &["module", "array", "drive"],
            Self::PumpSpeed | Self::UsefulSpeed => &[
                "module", "array", "drive", "motor", "pump", "well", "pipe", "outlet", "strings",
            ],
            _ => &["module", "array", "inverter"],
        }
    }
}

/// What a finding is about: a rule, or something that no rule covers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Subject {
    /// A rule that is violated, or whose limit no datasheet gives.
    Rule(Rule),
    /// Weather beyond the given record.
    Record,
    /// A drive without strings.
    NoStrings,
    /// Strings of one drive on planes too far apart.
    PlanesApart,
    /// Power of the modules on a drive ÷ power of its pump.
    ArrayOverPump,
    /// Poles to switch.
    Poles,
    /// The fuse that each string needs.
    StringFuses,
    /// Mains that holds the drive's bus.
    HeldBus,
    /// Power of the modules ÷ rated output of the inverter.
    DcOverAc,
    /// Strings that are idle in an outage.
    IdleStrings,
}

impl Subject {
    /// All subjects that are not rules.
    const BESIDE: [Self; 9] = [
        Self::Record,
        Self::NoStrings,
        Self::PlanesApart,
        Self::ArrayOverPump,
        Self::Poles,
        Self::StringFuses,
        Self::HeldBus,
        Self::DcOverAc,
        Self::IdleStrings,
    ];

    /// All subjects, rules first.
    pub const ALL: [Self; Rule::ALL.len() + Self::BESIDE.len()] = {
        let mut all = [Self::Record; Rule::ALL.len() + Self::BESIDE.len()];
        let mut i = 0;
        while i < all.len() {
            all[i] = if i < Rule::ALL.len() {
                Self::Rule(Rule::ALL[i])
            } else {
                Self::BESIDE[i - Rule::ALL.len()]
            };
            i += 1;
        }
        all
    };

    /// Id in results.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::Rule(rule) => rule.id(),
            Self::Record => "record",
            Self::NoStrings => "no-strings",
            Self::PlanesApart => "planes-apart",
            Self::ArrayOverPump => "array-over-pump",
            Self::Poles => "poles",
            Self::StringFuses => "string-fuses",
            Self::HeldBus => "held-bus",
            Self::DcOverAc => "dc-over-ac",
            Self::IdleStrings => "idle-strings",
        }
    }
}

/// Which strings share an input. The key goes with the string groups, wherever the file has them.
pub(crate) const STRINGS_PER_INPUT: &str = "array.strings_per_input";
