//! The rules that strings are judged by.

/// What a broken rule means.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Weight {
    /// It must not be built.
    Forbids,
    /// It may be built, and costs something.
    Warns,
    /// Good to know.
    Notes,
}

impl Weight {
    /// Name in results.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::Forbids => "forbids",
            Self::Warns => "warns",
            Self::Notes => "notes",
        }
    }
}

/// A rule, in the order in which they are told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Rule {
    /// Open circuit on the coldest morning against the drive.
    ColdVoltageOnDrive,
    /// The same against the inverter.
    ColdVoltageOnInverter,
    /// The same against the modules' system voltage.
    ColdVoltageOfModule,
    /// Greatest power at a hot noon against the lower edge of the MPPT window.
    MpptFloor,
    /// Greatest power in cold sun against its upper edge.
    MpptCeiling,
    /// Open circuit at a hot noon against the voltage at which the drive starts.
    DriveStart,
    /// Speed that a hot noon gives the pump.
    PumpSpeed,
    /// Strings on one MPPT input.
    StringsOnInput,
    /// MPPT inputs taken.
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
    /// String fuses while the inverter has the strings.
    FuseOnInverter,
    /// String fuses while the drive has them.
    FuseOnDrive,
}

impl Rule {
    /// All of them, in order.
    pub const ALL: [Self; 17] = [
        Self::ColdVoltageOnDrive,
        Self::ColdVoltageOnInverter,
        Self::ColdVoltageOfModule,
        Self::MpptFloor,
        Self::MpptCeiling,
        Self::DriveStart,
        Self::PumpSpeed,
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

    /// Name in results.
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

    /// What it means when it is broken.
    #[must_use]
    pub const fn weight(self) -> Weight {
        match self {
            Self::MpptCeiling | Self::CurrentOnInput | Self::CurrentOnDrive => Weight::Warns,
            _ => Weight::Forbids,
        }
    }

    /// Unit of value and limit, as printed; powers are in W in [`crate::Measure`] and printed in kW.
    #[must_use]
    pub const fn unit(self) -> &'static str {
        match self {
            Self::ColdVoltageOnDrive
            | Self::ColdVoltageOnInverter
            | Self::ColdVoltageOfModule
            | Self::MpptFloor
            | Self::MpptCeiling
            | Self::DriveStart => "V",
            Self::PumpSpeed => "Hz",
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

    /// Whether the value must not be above the limit; else it must not be below it.
    #[must_use]
    pub const fn is_ceiling(self) -> bool {
        !matches!(self, Self::MpptFloor | Self::DriveStart | Self::PumpSpeed)
    }

    /// A value of it as printed: powers in kW.
    #[must_use]
    pub fn printed_value(self, value: f64) -> f64 {
        match self {
            Self::PowerOnInverter | Self::PowerOnDrive => value / 1e3,
            _ => value,
        }
    }

    /// Whether it depends on the length of a string alone.
    #[must_use]
    pub const fn is_of_length(self) -> bool {
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

    /// Values that it rests on and that must be given and confirmed, as keys with their section.
    #[must_use]
    pub const fn rests_on(self) -> &'static [&'static str] {
        match self {
            Self::ColdVoltageOnDrive => &["site.record_low_c", "drive.greatest_dc_v"],
            Self::ColdVoltageOnInverter => &["site.record_low_c", "inverter.greatest_dc_v"],
            Self::ColdVoltageOfModule => &["site.record_low_c", "module.system_voltage_v"],
            Self::MpptFloor => &["site.record_high_c", "inverter.mppt_min_v"],
            Self::MpptCeiling => &["site.record_low_c", "inverter.mppt_max_v"],
            Self::DriveStart => &["site.record_high_c", "drive.start_dc_v"],
            Self::PumpSpeed => &["site.record_high_c", "well.static_level_m"],
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

    /// Sections of which no value may be marked as assumed; what they leave to its default is a usual practice.
    #[must_use]
    pub const fn leans_on(self) -> &'static [&'static str] {
        match self {
            Self::ColdVoltageOfModule => &["module", "array"],
            Self::ColdVoltageOnDrive | Self::DriveStart | Self::FuseOnDrive => &["module", "array", "drive"],
            Self::ShortCircuitOnDrive | Self::CurrentOnDrive | Self::PowerOnDrive => &["module", "array", "drive"],
            Self::PumpSpeed => &[
                "module", "array", "drive", "motor", "pump", "well", "pipe", "outlet", "strings",
            ],
            _ => &["module", "array", "inverter"],
        }
    }
}

/// What a finding is about: a rule, or something beside the rules.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Subject {
    /// A rule that is broken, or that cannot be judged.
    Rule(Rule),
    /// Weather beyond what is given as the record.
    Record,
    /// A drive without strings.
    NoStrings,
    /// Strings of one drive on planes that no sun lights alike.
    PlanesApart,
    /// The array in an outage over what the pump takes.
    ArrayOverPump,
    /// Poles that are switched.
    Poles,
    /// The fuse that each string needs.
    StringFuses,
    /// Mains that holds the drive's bus.
    HeldBus,
    /// The modules over the inverter's rated output.
    DcOverAc,
    /// Strings that stand idle in an outage.
    IdleStrings,
}

impl Subject {
    /// All of them that are no rules.
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

    /// All of them, rules first.
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

    /// Name in results.
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

/// Which strings share an input; it stands with the strings, wherever they stand.
pub(crate) const STRINGS_PER_INPUT: &str = "array.strings_per_input";
