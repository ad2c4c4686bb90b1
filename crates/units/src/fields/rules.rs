//! Fields of the rules of pumping.

use crate::field::{Field, Unit};

section! {
    /// `[pumping]`: when the pumps may run on mains, or on any other bus.
    pumping = "pumping" {
        MAINS_HOURS = Field::new("mains_hours", "hours of pumping on mains", Unit::HOUR, 0.0, 24.0, super::super::CLOCK_HOURS).whole();
        MAINS_FILL = Field::new("mains_fill_pct", "tank level at which mains stops pumping", Unit::PERCENT, 1.0, 100.0, "of the capacity; above the low mark")
            .or(100.0, "usual practice: mains fills the tank");
        SURPLUS = Field::new("surplus_pct", "share of the pumps' power that the inverters must offer to run them outside the rule", Unit::PERCENT, 1.0, 150.0, "100: the sun alone runs them; less: mains gives the rest; more: with a margin for clouds");
        RESTART_HOURS = Field::new("attended_hours", "hours in which somebody is there to close the mains starters", Unit::HOUR, 0.0, 24.0, super::super::CLOCK_HOURS).whole();
        RESTART_DELAY = Field::new("restart_delay_s", "minimum time from the return of power until the mains starters are closed", Unit::S, 0.0, 86_400.0, "the time that somebody takes to notice and to get there, at most a day")
            .or(0.0, "somebody who is there closes them at once");
    }
}

section! {
    /// `[[pumping.row]]`: the rule of pumping of some rows.
    row_rule = "pumping.row" {
        MAINS_HOURS = Field::new("mains_hours", "hours of pumping on mains in these rows", Unit::HOUR, 0.0, 24.0, super::super::CLOCK_HOURS).whole();
        MAINS_FILL = Field::new("mains_fill_pct", "tank level at which mains stops pumping in these rows", Unit::PERCENT, 1.0, 100.0, "of the capacity; above the low mark");
        LOW_MARK = Field::new("low_mark_pct", "level below which mains pumps at any hour in these rows", Unit::PERCENT, 0.0, 95.0, "of the capacity; below the restart level");
        SURPLUS = Field::new("surplus_pct", "share of the pumps' power that the inverters must offer to run them outside the rule in these rows", Unit::PERCENT, 1.0, 150.0, "100: the sun alone runs them; less: mains gives the rest; more: with a margin for clouds");
    }
}
