//! Why energy was lost and why water was short: closed lists. When several causes apply, the first in the list counts.

macro_rules! causes {
    ($(#[$doc:meta])* $name:ident { $($(#[$cause_doc:meta])* $cause:ident = $id:literal,)* }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum $name { $($(#[$cause_doc])* $cause,)* }

        impl $name {
            /// All of them, in order.
            pub const ALL: [Self; [$($id),*].len()] = [$(Self::$cause),*];

            /// Name in results.
            #[must_use]
            pub const fn id(self) -> &'static str {
                match self { $(Self::$cause => $id,)* }
            }

            /// Place in [`Self::ALL`].
            #[must_use]
            pub const fn index(self) -> usize {
                self as usize
            }
        }
    };
}

causes! {
    /// Why energy of the array was lost. Where two causes apply to the same kWh, it is booked to the first. The last four
    /// belong to energy that was used.
    LossCause {
        /// The grid is down, and this arrangement has no use for the array's power then.
        GridDown = "grid-down",
        /// This string group has no drive while others pump.
        IdleStrings = "idle-strings",
        /// A changeover: until the contacts are made and the ramp is done.
        Changeover = "changeover",
        /// The wait from the end of the changeover, or from the grid's return, until the inverter feeds.
        WaitingToReconnect = "waiting-to-reconnect",
        /// The farm's own export raised the line's voltage to the inverter's limit.
        GridVoltageTrip = "grid-voltage-trip",
        /// The sun could run the set, which waits before it starts.
        StartLockout = "start-lockout",
        /// The tank is full.
        WaterNotWanted = "water-not-wanted",
        /// The device misses a part of the maximum power.
        Tracking = "tracking",
        /// The well allows no more flow.
        WellLimit = "well-limit",
        /// Too little sun to start.
        BelowStart = "below-start",
        /// The maximum-power voltage lies outside the inverter's window.
        MpptWindow = "mppt-window",
        /// The strings' voltage does not allow the speed that the power would.
        VoltageLimitedSpeed = "voltage-limited-speed",
        /// The grid's rectifier holds the bus away from the maximum-power point.
        HeldOffByGrid = "held-off-by-grid",
        /// The drive's rating.
        DriveLimit = "drive-limit",
        /// The pump runs at the wanted frequency and takes no more.
        PumpAtFullSpeed = "pump-at-full-speed",
        /// The inverter's rating.
        InverterClipping = "inverter-clipping",
        /// No use on the farm takes it, and no more may be exported.
        ExportLimit = "export-limit",
        /// The battery takes no more.
        BatteryLimit = "battery-limit",
        /// Losses of the inverter for energy that was used.
        InverterConversion = "inverter-conversion",
        /// Losses of the drive for energy that was used.
        DriveConversion = "drive-conversion",
        /// Losses of the battery for energy that was used.
        BatteryConversion = "battery-conversion",
        /// Losses of DC, AC and motor cables for energy that was used.
        Cables = "cables",
    }
}

impl LossCause {
    /// Number of causes.
    pub const COUNT: usize = Self::ALL.len();

    /// The causes that belong to energy that was used.
    pub const OF_USED: [Self; 4] = [
        Self::InverterConversion,
        Self::DriveConversion,
        Self::BatteryConversion,
        Self::Cables,
    ];
}

causes! {
    /// What held the pump back while water was short.
    ShortfallCause {
        /// No power: the grid is down, and no array can run the pump in this arrangement.
        GridDown = "grid-down",
        /// The plant was changing over.
        Changeover = "changeover",
        /// Power is there again, and nobody has closed the starter yet.
        WaitingForRestart = "waiting-for-restart",
        /// Outside the hours in which the pump may run on mains.
        OutsideHours = "outside-hours",
        /// Too little sun for the pump to run, or to run at the wanted speed.
        TooLittleSun = "too-little-sun",
        /// The island or the generator cannot carry the pump.
        SourceTooSmall = "source-too-small",
        /// The strings' voltage did not allow the wanted speed.
        VoltageLimitedSpeed = "voltage-limited-speed",
        /// The well allows no more flow.
        WellLimit = "well-limit",
        /// The pump ran at the wanted speed and could not keep up.
        PumpTooSlow = "pump-too-slow",
    }
}

impl ShortfallCause {
    /// Number of causes.
    pub const COUNT: usize = Self::ALL.len();
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_order_of_losses_is_the_order_of_the_list() {
        for (i, cause) in LossCause::ALL.into_iter().enumerate() {
            assert_eq!(cause.index(), i);
        }
        assert!(LossCause::GridDown < LossCause::Changeover && LossCause::Changeover < LossCause::WaterNotWanted);
    }
}
