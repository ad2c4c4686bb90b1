//! Every field of the plant file and of the equipment files, by section.
//!
//! A range is wide enough for every plant that makes sense and narrow enough to catch a wrong unit.

use crate::field::{Field, Unit};

macro_rules! section {
    ($(#[$doc:meta])* $module:ident = $title:literal { $($name:ident = $field:expr;)* }) => {
        $(#[$doc])*
        #[allow(missing_docs, reason = "the declaration itself says what the field is")]
        pub mod $module {
            use super::{Field, Unit};
            $(pub const $name: Field = $field;)*
            /// The section's name in the file.
            pub const TITLE: &str = $title;
            /// Every field of the section.
            pub const ALL: &[Field] = &[$($name),*];
        }
    };
}

section! {
    /// Start of every file.
    file = "head of the file" {
        FORMAT = Field::new("format", "format of the file", Unit::COUNT, 1.0, 1.0, "this version reads format 1").whole();
    }
}

section! {
    /// `[site]`: the place of the plant.
    site = "site" {
        LATITUDE = Field::new("latitude_deg", "latitude", Unit::DEGREE, -66.0, 66.0, "north positive; beyond the polar circles the sun model of a farm does not hold");
        LONGITUDE = Field::new("longitude_deg", "longitude", Unit::DEGREE, -180.0, 180.0, "east positive");
        ALTITUDE = Field::new("altitude_m", "altitude above sea level", Unit::M, -430.0, 5000.0, "the lowest shore to the highest farms");
        YEAR = Field::new("year", "simulation year", Unit::COUNT, 1950.0, 2100.0, "years the sun and the clock rules are sure of").whole();
        RECORD_LOW = Field::new("record_low_c", "coldest air ever recorded near the site", Unit::CELSIUS, -60.0, 35.0, "the nearest weather service knows it; strings are at their highest voltage then");
        RECORD_HIGH = Field::new("record_high_c", "hottest air ever recorded near the site", Unit::CELSIUS, 0.0, 58.0, "the nearest weather service knows it; strings are at their lowest voltage then");
        HORIZON = Field::new("horizon_deg", "elevation of the horizon, at equal steps of azimuth", Unit::DEGREE, 0.0, 60.0, "clockwise from north; a horizon above 60° is a gorge, not a site");
    }
}

section! {
    /// `[weather]`: the weather file, or the means from which a weather year is generated.
    weather = "weather" {
        UTC_OFFSET = Field::new("utc_offset_h", "standard time of the weather file", Unit::HOUR, -14.0, 14.0, "hours east of UTC: 2 for UTC+2, -3.5 for UTC−3:30");
        DAILY_GHI = Field::new("daily_ghi_kwh_m2", "global horizontal irradiation of a day, mean by month", Unit::KWH_PER_M2_DAY, 0.0, 12.0, "the sunniest months of the earth come to 9; a month's sum is divided by its days");
        SEED = Field::new("seed", "seed of the year that is made", Unit::COUNT, 0.0, 4_294_967_295.0, "the same seed gives the same year").whole()
            .or(1.0, "any seed gives a year as likely as another");
        AIR_MEAN = Field::new("air_mean_c", "mean air temperature by month", Unit::CELSIUS, -40.0, 45.0, "the hottest months of the earth come to 40 °C");
        AIR_LOW = Field::new("air_low_c", "mean of the days' least air temperature by month", Unit::CELSIUS, -50.0, 40.0, "from the nearest station's table");
        AIR_HIGH = Field::new("air_high_c", "mean of the days' greatest air temperature by month", Unit::CELSIUS, -35.0, 52.0, "from the nearest station's table");
        CLOUD_SEED = Field::new("cloud_seed", "seed of the clouds within the hour", Unit::COUNT, 0.0, 4_294_967_295.0, "the same seed gives the same clouds").whole()
            .or(1.0, "any seed gives clouds as likely as another");
        WIND = Field::new("wind_m_s", "wind speed by month", Unit::M_PER_S, 0.0, 20.0, "mean of day and night at the height of the modules")
            .or(1.0, "little wind makes warm modules; usual practice where none is known");
    }
}

section! {
    /// `[array]`: the PV array and its losses.
    array = "array" {
        TILT = Field::new("tilt_deg", "tilt of the modules", Unit::DEGREE, 0.0, 90.0, "0 is flat, 90 upright");
        AZIMUTH = Field::new("azimuth_deg", "direction the modules face", Unit::DEGREE, 0.0, 360.0, "clockwise from north: 0 north, 90 east, 180 south, 270 west");
        AXIS_AZIMUTH = Field::new("axis_azimuth_deg", "direction of the tracker's axis", Unit::DEGREE, 0.0, 360.0, "clockwise from north: 0 and 180 from north to south; a tilted axis falls in this direction")
            .or(0.0, "usual practice: an axis from north to south");
        AXIS_TILT = Field::new("axis_tilt_deg", "tilt of the tracker's axis", Unit::DEGREE, 0.0, 45.0, "0 is level; makers allow for 15° or so of slope")
            .or(0.0, "usual practice: a level axis");
        GREATEST_ROTATION = Field::new("greatest_rotation_deg", "greatest rotation of the tracker to either side", Unit::DEGREE, 0.0, 90.0, "0 stays level, 90 stands upright")
            .or(60.0, "usual practice: makers state 45° to 60°");
        ROW_PITCH = Field::new("row_pitch_m", "distance between the same points of neighbouring rows, along level ground", Unit::M, 0.3, 200.0, "more than the width of a row; rows 200 m apart are no neighbours");
        ROW_WIDTH = Field::new("row_width_m", "width of a row of modules, along their slope", Unit::M, 0.2, 30.0, "one module lying is about 1 m, four standing above one another 9 m");
        MODULES_PER_STRING = Field::new("modules_per_string", "modules in series in a string", Unit::COUNT, 1.0, 60.0, "60 modules pass every usual DC voltage limit").whole();
        STRINGS = Field::new("strings", "strings in parallel", Unit::COUNT, 1.0, 2000.0, "2000 strings are several megawatts").whole();
        STRINGS_PER_INPUT = Field::new("strings_per_input", "most strings of the group that share one MPPT input of the inverter", Unit::COUNT, 1.0, 2000.0, "the last input may have fewer").whole();
        ALBEDO = Field::new("albedo", "share of sunlight the ground reflects", Unit::ONE, 0.0, 0.9, "0.2 grass, 0.35 dry sand, 0.8 fresh snow")
            .or(0.2, "usual practice for grass and soil");
        SOILING = Field::new("soiling_pct", "sunlight lost to dust on the glass", Unit::PERCENT, 0.0, 60.0, "above 60% the array wants washing, not computing")
            .or(3.0, "usual practice for cleaned arrays on farms");
        MISMATCH = Field::new("mismatch_pct", "loss from modules that differ", Unit::PERCENT, 0.0, 10.0, "sorted modules lose under 1%, mixed ones a few")
            .or(1.0, "usual practice for modules of one delivery");
        LIGHT_INDUCED = Field::new("light_induced_pct", "loss of the first hours of light", Unit::PERCENT, 0.0, 10.0, "makers state up to 3%")
            .or(1.5, "usual practice for p-type silicon");
        UNAVAILABILITY = Field::new("unavailability_pct", "share of the time the array is out of order", Unit::PERCENT, 0.0, 50.0, "half the year out of order is not a plant")
            .or(0.5, "usual practice for attended plants");
        DEGRADATION = Field::new("yearly_degradation_pct", "power lost with each year of age", Unit::PERCENT, 0.0, 5.0, "warranties allow up to about 1%")
            .or(0.5, "usual practice; field medians lie near 0.5% a year");
        AGE = Field::new("age_years", "age of the modules in the year computed", Unit::YEAR, 0.0, 50.0, "modules older than 50 years do not exist")
            .or(0.0, "a new plant");
        U0 = Field::new("u0_w_per_m2_k", "heat the module sheds in still air", Unit::W_PER_M2_K, 10.0, 60.0, "15 for modules flat on a roof, 30 for open racks")
            .or(25.0, "mean of Faiman (2008)");
        U1 = Field::new("u1_w_s_per_m3_k", "heat the module sheds for each m/s of wind", Unit::W_S_PER_M3_K, 0.0, 15.0, "published fits lie between 4 and 11")
            .or(6.84, "mean of Faiman (2008)");
        NOCT = Field::new("noct_c", "nominal operating cell temperature", Unit::CELSIUS, 35.0, 65.0, "datasheets state 41 to 48 °C; close to a roof more")
            .or(45.0, "usual practice where the datasheet states none");
        DC_CABLE_LOSS = Field::new("dc_cable_loss_pct", "loss in the DC cables at rated array power", Unit::PERCENT, 0.0, 20.0, "usual practice 1% to 3%")
            .or(1.5, "usual practice 1% to 3%");
    }
}

section! {
    /// `[strings]`: the conditions at which strings are checked.
    strings = "strings" {
        NOON = Field::new("noon_w_m2", "sunlight on the array at a hot noon", Unit::W_PER_M2, 500.0, 1300.0, "1000 W/m² is strong sun; a bright cloud's edge reaches 1300 for seconds")
            .or(1000.0, "usual practice: the irradiance of standard test conditions");
        NOON_WIND = Field::new("noon_wind_m_s", "wind at a hot noon", Unit::M_PER_S, 0.0, 10.0, "little wind makes hot modules")
            .or(1.0, "usual practice: a light air; the wind of the nominal operating cell temperature");
        USEFUL_SPEED = Field::new("useful_speed_pct", "speed that the sun of a hot noon must give the pump", Unit::PERCENT, 20.0, 100.0, "of the speed that pump, well and drive allow")
            .or(90.0, "usual practice: at nine tenths of its speed a pump still gives most of its water");
    }
}

section! {
    /// A module's datasheet.
    module = "module file" {
        ISC = Field::new("short_circuit_a", "short-circuit current", Unit::A, 0.5, 30.0, "usual modules: 2 to 20 A");
        VOC = Field::new("open_circuit_v", "open-circuit voltage", Unit::V, 5.0, 300.0, "usual modules: 20 to 90 V");
        IMP = Field::new("max_power_a", "current at maximum power", Unit::A, 0.5, 30.0, "below the short-circuit current");
        VMP = Field::new("max_power_v", "voltage at maximum power", Unit::V, 4.0, 300.0, "below the open-circuit voltage");
        ALPHA = Field::new("short_circuit_a_per_k", "change of short-circuit current with temperature", Unit::A_PER_K, -0.03, 0.05, "in A/K, not %/K");
        BETA = Field::new("open_circuit_v_per_k", "change of open-circuit voltage with temperature", Unit::V_PER_K, -1.5, -0.005, "in V/K, not %/K; negative");
        CELLS = Field::new("cells", "cells in series", Unit::COUNT, 6.0, 400.0, "count half-cut cells in series once: a 144-half-cell module has 72").whole();
        SYSTEM_V = Field::new("system_voltage_v", "greatest system voltage of the module", Unit::V, 50.0, 2000.0, "datasheets state 600, 1000 or 1500 V")
            .or(1000.0, "usual practice where the datasheet is not at hand; newer modules bear 1500 V");
        GREATEST_FUSE = Field::new("greatest_fuse_a", "greatest fuse in series with the module", Unit::A, 1.0, 60.0, "datasheets state 10 to 35 A, as maximum series fuse rating")
            .or(15.0, "usual practice for modules of 6 inch cells where the datasheet is not at hand");
    }
}

section! {
    /// An inverter's datasheet, and its installation.
    inverter = "inverter" {
        RATED = Field::new("rated_power_kw", "rated AC output", Unit::KW, 0.2, 5000.0, "from a single small string to a central inverter");
        LOAD = Field::new("load_pct", "part loads of the efficiency points", Unit::PERCENT, 1.0, 120.0, "per cent of rated output");
        EFFICIENCY = Field::new("efficiency_pct", "efficiency at those loads", Unit::PERCENT, 30.0, 99.9, "in per cent");
        START = Field::new("start_power_w", "DC power at which it starts to feed", Unit::W, 0.0, 20_000.0, "usually below 1% of rated power");
        MPPT_MIN = Field::new("mppt_min_v", "lower edge of the MPPT window", Unit::V, 20.0, 1500.0, "DC input up to 1500 V");
        MPPT_MAX = Field::new("mppt_max_v", "upper edge of the MPPT window", Unit::V, 20.0, 1500.0, "DC input up to 1500 V");
        GREATEST_DC_V = Field::new("greatest_dc_v", "greatest DC voltage that the inverter bears", Unit::V, 20.0, 2000.0, "beyond it the inverter is destroyed; not below the upper edge of its MPPT window");
        MPPT_INPUTS = Field::new("mppt_inputs", "MPPT inputs of the inverter", Unit::COUNT, 1.0, 200.0, "each tracks by itself").whole();
        INPUT_STRINGS = Field::new("strings_per_input", "strings that fit on one MPPT input", Unit::COUNT, 1.0, 400.0, "pairs of connectors or terminals of an input").whole();
        INPUT_CURRENT = Field::new("input_current_a", "greatest operating current of an MPPT input", Unit::A, 1.0, 5000.0, "what it draws at most; more only clips");
        INPUT_SHORT_CIRCUIT = Field::new("input_short_circuit_a", "greatest short-circuit current of the strings on an MPPT input", Unit::A, 1.0, 8000.0, "what it bears; not below its operating current");
        GREATEST_DC_POWER = Field::new("greatest_dc_power_kw", "greatest PV power that may be connected to the inverter", Unit::KW, 0.2, 20_000.0, "at standard test conditions, as the maker states it");
        AC_CABLE_LOSS = Field::new("ac_cable_loss_pct", "loss in the AC cable at rated output", Unit::PERCENT, 0.0, 20.0, "usual practice up to 3%")
            .or(1.0, "usual practice 1% to 3%");
        RECONNECTION = Field::new("reconnection_s", "wait before feeding after the grid's return", Unit::S, 0.0, 3600.0, "grid codes ask for 20 s to 10 min")
            .or(60.0, "60 s in several grid codes (from memory); the local code decides");
    }
}

section! {
    /// A drive's datasheet.
    drive = "drive" {
        RATED = Field::new("rated_power_kw", "rated output", Unit::KW, 0.2, 2000.0, "from the smallest to the largest low-voltage drives");
        LOAD = Field::new("load_pct", "part loads of the efficiency points", Unit::PERCENT, 1.0, 120.0, "per cent of rated output");
        EFFICIENCY = Field::new("efficiency_pct", "efficiency at those loads", Unit::PERCENT, 30.0, 99.9, "in per cent");
        GREATEST = Field::new("greatest_frequency_hz", "greatest output frequency in this plant", Unit::HZ, 30.0, 120.0, "motor and pump bear little more than rated speed");
        DROP = Field::new("voltage_drop_pct", "bus voltage wanted beyond √2 times the motor voltage", Unit::PERCENT, 0.0, 15.0, "drops of drive, filter and cable")
            .or(2.0, "usual practice");
        GREATEST_DC_V = Field::new("greatest_dc_v", "greatest DC voltage that the drive bears", Unit::V, 20.0, 2000.0, "beyond it the drive is destroyed; usual are 400 to 450 V for 230 V motors, 800 V for 400 V motors");
        START_DC_V = Field::new("start_dc_v", "DC voltage at which the drive starts", Unit::V, 10.0, 1500.0, "below its greatest DC voltage");
        DC_CURRENT = Field::new("dc_current_a", "greatest operating current of the drive's DC input", Unit::A, 0.5, 5000.0, "what it draws at most; more only clips");
        DC_SHORT_CIRCUIT = Field::new("dc_short_circuit_a", "greatest short-circuit current of the strings on the drive", Unit::A, 1.0, 8000.0, "what its DC input bears; not below its operating current");
        GREATEST_DC_POWER = Field::new("greatest_dc_power_kw", "greatest PV power that may be connected to the drive", Unit::KW, 0.2, 20_000.0, "at standard test conditions, as the maker states it");
    }
}

section! {
    /// A motor's datasheet.
    motor = "motor file" {
        RATED = Field::new("rated_power_kw", "rated shaft power", Unit::KW, 0.2, 2000.0, "shaft, not input power");
        FREQUENCY = Field::new("rated_frequency_hz", "rated frequency", Unit::HZ, 30.0, 120.0, "50 or 60 Hz for most");
        VOLTAGE = Field::new("rated_voltage_v", "rated voltage between phases", Unit::V, 50.0, 1000.0, "low-voltage motors");
        LOAD = Field::new("load_pct", "part loads of the efficiency points", Unit::PERCENT, 1.0, 120.0, "per cent of rated shaft power");
        EFFICIENCY = Field::new("efficiency_pct", "efficiency at those loads", Unit::PERCENT, 20.0, 99.0, "in per cent");
        LEAST = Field::new("least_frequency_hz", "least frequency in steady running", Unit::HZ, 5.0, 60.0, "submersible motors' bearings want about 30 Hz")
            .or(30.0, "usual practice for submersible motors");
    }
}

section! {
    /// A pump's datasheet.
    pump = "pump file" {
        FLOW = Field::new("flow_m3_h", "flow of the curve's points", Unit::M3_PER_H, 0.0, 20_000.0, "in m³/h");
        HEAD = Field::new("head_m", "head at those flows", Unit::M, 0.0, 1500.0, "in metres of water");
        EFFICIENCY = Field::new("efficiency_pct", "pump efficiency at those flows", Unit::PERCENT, 0.0, 92.0, "in per cent; the best large pumps reach 92%");
        SHAFT_POWER = Field::new("shaft_power_kw", "shaft power at those flows", Unit::KW, 0.0, 5000.0, "in kW");
    }
}

section! {
    /// `[pump]`: the pump in this plant.
    pump_set = "pump" {
        MOTOR_CABLE_LOSS = Field::new("motor_cable_loss_pct", "loss in the motor cable at rated shaft power", Unit::PERCENT, 0.0, 15.0, "usual practice up to 3%")
            .or(2.0, "usual practice 1% to 3%");
        WANTED = Field::new("wanted_frequency_hz", "frequency wanted on the drive", Unit::HZ, 20.0, 120.0, "between the motor's least and the drive's greatest frequency");
    }
}

section! {
    /// `[well]`: borehole, well, river or dam.
    well = "well" {
        STATIC_LEVEL = Field::new("static_level_m", "standing water level below the well head", Unit::M, 0.0, 600.0, "deeper than any usual borehole pump");
        AQUIFER_LOSS = Field::new("aquifer_loss_m_per_m3_h", "drawdown in proportion to flow (B)", Unit::M_PER_M3_H, 0.0, 50.0, "a well worse than 50 m per m³/h is dry")
            .or(0.0, "a river or dam has no drawdown");
        WELL_LOSS = Field::new("well_loss_m_per_m3_h2", "drawdown with the square of flow (C)", Unit::M_PER_M3_H2, 0.0, 5.0, "0.0005 good, 0.005 clogged, in m per (m³/h)²")
            .or(0.0, "a river or dam has no drawdown");
        INTAKE_DEPTH = Field::new("intake_depth_m", "depth of the pump's intake below the well head", Unit::M, 0.5, 700.0, "below the pumped level");
        INTAKE_MARGIN = Field::new("intake_margin_m", "water to be kept above the intake", Unit::M, 0.0, 30.0, "keeps air out of the pump")
            .or(2.0, "usual practice");
        WATER_TEMPERATURE = Field::new("water_temperature_c", "water temperature", Unit::CELSIUS, 1.0, 45.0, "liquid water that a pump may lift")
            .or(20.0, "usual practice where it was not measured");
    }
}

section! {
    /// `[[pipe]]`: one length of pipe, in series with the others.
    pipe = "pipe" {
        BORE = Field::new("bore_mm", "inner diameter", Unit::MM, 10.0, 2000.0, "inner, not nominal");
        LENGTH = Field::new("length_m", "length", Unit::M, 0.1, 50_000.0, "in metres");
        ROUGHNESS = Field::new("roughness_mm", "wall roughness", Unit::MM, 0.0, 10.0, "0.0015 plastic, 0.045 new steel, 0.15 galvanised");
        FITTINGS = Field::new("fittings_k", "sum of the fittings' loss coefficients K", Unit::ONE, 0.0, 500.0, "an elbow is about 0.9, a check valve about 2.5")
            .or(0.0, "no fittings stated");
    }
}

section! {
    /// `[outlet]`: where the water goes.
    outlet = "outlet" {
        LIFT = Field::new("lift_m", "height of the outlet above the well head", Unit::M, -300.0, 600.0, "negative where the outlet lies lower");
        PRESSURE = Field::new("pressure_bar", "pressure wanted at the outlet", Unit::BAR, 0.0, 40.0, "0 for a free outlet into a tank")
            .or(0.0, "a free outlet");
    }
}

section! {
    /// `[tank]`: the water store.
    tank = "tank" {
        CAPACITY = Field::new("capacity_m3", "content when full", Unit::M3, 0.5, 5_000_000.0, "from a drum stand to a dam");
        RESTART = Field::new("restart_pct", "level at which a pump that stopped at full starts again", Unit::PERCENT, 1.0, 99.0, "of the capacity; below full, above the low mark")
            .or(90.0, "usual practice for float switches");
        LOW_MARK = Field::new("low_mark_pct", "level below which mains pumping is allowed at any hour", Unit::PERCENT, 0.0, 95.0, "of the capacity; below the restart level")
            .or(20.0, "usual practice");
    }
}

section! {
    /// `[demand]`: the water demand.
    demand = "demand" {
        DAILY = Field::new("daily_m3", "water wanted on a day of each month", Unit::M3_PER_DAY, 0.0, 1_000_000.0, "in m³ a day");
        HOUR_SHARE = Field::new("hour_share", "share of the day's water in each hour", Unit::ONE, 0.0, 1000.0, "twenty-four weights; their sum is taken as the whole");
    }
}

section! {
    /// `[pumping]`: the hours in which the pump may run on mains.
    pumping = "pumping" {
        MAINS_HOURS = Field::new("mains_hours", "hours of pumping on mains", Unit::HOUR, 0.0, 24.0, "two whole hours, from and to").whole();
        GRID_ONLY_HOURS = Field::new("grid_only_hours", "hours of pumping on mains in grid-only", Unit::HOUR, 0.0, 24.0, "two whole hours, from and to").whole();
    }
}

section! {
    /// `[grid]` and `[tariff]`: limits and prices of the utility.
    grid = "grid" {
        EXPORT_LIMIT = Field::new("export_limit_kw", "greatest power that may leave the farm", Unit::KW, 0.01, 100_000.0, "as the export agreement says; for none write export = \"none\"");
        HOUR_CREDIT = Field::new("credit_per_kwh", "credit for energy exported in these hours", Unit::MONEY_PER_KWH, 0.0, 1e6, "not negative; it goes before `export_credit_per_kwh`");
        EXPORT_CREDIT = Field::new("export_credit_per_kwh", "credit for energy exported", Unit::MONEY_PER_KWH, 0.0, 1e6, "not negative; 0 is export = \"unpaid\"");
        PRICE = Field::new("per_kwh", "price of energy", Unit::MONEY_PER_KWH, 0.0, 1e6, "not negative");
        MONTH = Field::new("months", "months of the season", Unit::COUNT, 1.0, 12.0, "1 is January").whole();
        FROM_HOUR = Field::new("from_h", "first hour of the price", Unit::HOUR, 0.0, 23.0, "whole hours of the civil day").whole();
        TO_HOUR = Field::new("to_h", "hour at which the price ends", Unit::HOUR, 1.0, 24.0, "whole hours of the civil day; 24 is midnight").whole();
        FIXED = Field::new("fixed_per_month", "fixed charge a month", Unit::MONEY, 0.0, 1e9, "not negative").or(0.0, "none stated");
        LOAD = Field::new("kw", "load of the farm in an hour", Unit::KW, 0.0, 100_000.0, "in kW, not negative");
    }
}

section! {
    /// `[grid.timetable]`: a rotating timetable of outages.
    timetable = "grid.timetable" {
        STAGE = Field::new("stage", "stage of the timetable in force", Unit::COUNT, 0.0, 20.0, "0 is no outage; a stage has the slots of all lower ones").whole();
        DAY = Field::new("day", "day of the month", Unit::COUNT, 1.0, 31.0, "a rotating timetable goes by the day of the month").whole();
    }
}

section! {
    /// `[grid.random]`: outages drawn at random.
    random = "grid.random" {
        SEED = Field::new("seed", "seed of the random outages", Unit::COUNT, 0.0, 4_294_967_295.0, "the same seed gives the same outages").whole();
        MEAN_OUTAGE = Field::new("mean_outage_h", "mean length of an outage", Unit::HOURS, 0.05, 720.0, "three minutes to a month");
        MEAN_UP = Field::new("mean_up_h", "mean time from the grid's return to its next loss", Unit::HOURS, 0.05, 87_600.0, "three minutes to ten years");
        SHARE = Field::new("share_pct", "share of the time that the grid is away", Unit::PERCENT, 0.01, 99.0, "in per cent of all hours");
        HOUR_WEIGHT = Field::new("hour_weight", "weight of each civil hour in the rate of failure", Unit::ONE, 0.0, 1000.0, "twenty-four weights; only their proportions count");
        MONTH_WEIGHT = Field::new("month_weight", "weight of each month in the rate of failure", Unit::ONE, 0.0, 1000.0, "twelve weights; only their proportions count");
    }
}

section! {
    /// `[grid.voltage]`: the voltage window outside which the grid cannot be used.
    voltage = "grid.voltage" {
        LEAST = Field::new("least_pu", "least voltage that is of use", Unit::ONE, 0.3, 1.0, "of the nominal voltage")
            .or(0.85, "usual practice; the device's own window decides");
        GREATEST = Field::new("greatest_pu", "greatest voltage that is of use", Unit::ONE, 1.0, 1.6, "of the nominal voltage")
            .or(1.10, "usual practice; the device's own window decides");
        NOMINAL = Field::new("nominal_v", "nominal voltage of the readings", Unit::V, 50.0, 132_000.0, "phase or line voltage, as the readings are");
        READING = Field::new("voltage_pu", "voltage of the grid", Unit::ONE, 0.0, 3.0, "of the nominal voltage; 0 is an outage");
    }
}

section! {
    /// `[grid.line]`: the line whose voltage rises with the farm's export.
    line = "grid.line" {
        RESISTANCE = Field::new("resistance_ohm_per_km", "resistance of one conductor of the line", Unit::OHM_PER_KM, 0.01, 20.0, "35 mm² aluminium 0.868, 95 mm² 0.320 (IEC 60228, at 20 °C)");
        LENGTH = Field::new("length_m", "length of the line to the stiff grid", Unit::M, 1.0, 100_000.0, "from the farm's meter to the transformer");
        NOMINAL = Field::new("nominal_v", "nominal voltage between phases", Unit::V, 100.0, 36_000.0, "400 V for most farms")
            .or(400.0, "usual practice for low-voltage supplies");
        NO_LOAD = Field::new("no_load_voltage_pct", "voltage at the farm without export", Unit::PERCENT, 80.0, 120.0, "of nominal, at the hours of much sun: measure it");
        GREATEST = Field::new("greatest_voltage_pct", "voltage at which the inverters leave the grid", Unit::PERCENT, 100.0, 130.0, "of nominal; as the grid code sets them")
            .or(110.0, "usual practice; the local grid code decides");
    }
}

section! {
    /// `[grid_input]`: mains on the drives' second input.
    grid_input = "grid_input" {
        HOURS = Field::new("hours", "hours in which mains may help on the drives", Unit::HOUR, 0.0, 24.0, "two whole hours, from and to").whole();
        WANTED_SPEED = Field::new("wanted_speed_pct", "speed that mains keeps up in each hour, of the wanted frequency", Unit::PERCENT, 20.0, 100.0, "twenty-four values; the sun may run the pump faster");
        TAKES_OVER = Field::new("takes_over_below_pct", "share of that speed below which the drive is moved from sun to mains", Unit::PERCENT, 0.0, 100.0, "0: only when the sun cannot run the pump at all")
            .or(0.0, "sun first: mains takes over when the sun cannot run the pump");
        LINE_VOLTAGE = Field::new("line_voltage_v", "voltage between phases at the drives' second input", Unit::V, 100.0, 1000.0, "its rectifier holds the bus at 1.35 times this")
            .or(400.0, "usual practice for low-voltage supplies");
    }
}

section! {
    /// A battery's datasheet, with its inverter.
    battery = "battery file" {
        CAPACITY = Field::new("capacity_kwh", "energy between empty and full", Unit::KWH, 0.2, 100_000.0, "as the maker states it");
        LEAST = Field::new("least_content_pct", "content at which it gives no more", Unit::PERCENT, 0.0, 90.0, "of the capacity; protects its life")
            .or(10.0, "usual practice for lithium batteries");
        CHARGE = Field::new("charge_kw", "greatest charge power, AC", Unit::KW, 0.1, 50_000.0, "of battery or inverter, the less of the two");
        DISCHARGE = Field::new("discharge_kw", "greatest discharge power, AC", Unit::KW, 0.1, 50_000.0, "of battery or inverter, the less of the two");
        CHARGE_EFFICIENCY = Field::new("charge_efficiency_pct", "efficiency from AC into the battery", Unit::PERCENT, 50.0, 100.0, "its inverter included")
            .or(95.0, "usual practice: about 90% there and back");
        DISCHARGE_EFFICIENCY = Field::new("discharge_efficiency_pct", "efficiency from the battery to AC", Unit::PERCENT, 50.0, 100.0, "its inverter included")
            .or(95.0, "usual practice: about 90% there and back");
    }
}

section! {
    /// `[battery]`: how the battery is used.
    battery_use = "battery" {
        RESERVE = Field::new("reserve_pct", "content kept for outages while the grid is there", Unit::PERCENT, 0.0, 100.0, "of the capacity, not below the least content")
            .or(40.0, "usual practice where outages last some hours");
        GRID_CHARGES = Field::new("grid_charges_to_pct", "content up to which the grid charges it", Unit::PERCENT, 0.0, 100.0, "of the capacity; 0: sun alone charges it; the reserve when left out");
        RESTART = Field::new("restart_pct", "content at which a dark island comes to life again", Unit::PERCENT, 1.0, 100.0, "of the capacity, above the least content")
            .or(25.0, "usual practice");
    }
}

section! {
    /// A generating set's datasheet.
    generator = "generator file" {
        RATED = Field::new("rated_power_kw", "rated output", Unit::KW, 0.5, 20_000.0, "prime rating at the site's altitude, in kW, not kVA");
        LEAST_LOAD = Field::new("least_load_pct", "least load at which it may run for long", Unit::PERCENT, 0.0, 80.0, "of rated output; below it a diesel soots up")
            .or(30.0, "usual practice for diesel sets");
        LOAD = Field::new("load_pct", "part loads of the fuel points", Unit::PERCENT, 0.0, 120.0, "per cent of rated output");
        FUEL = Field::new("fuel_l_per_h", "fuel at those loads", Unit::L_PER_H, 0.01, 20_000.0, "in litres an hour");
    }
}

section! {
    /// `[generator]`: how the generating set is used.
    generator_use = "generator" {
        START_DELAY = Field::new("start_delay_s", "from the loss of the grid until the set bears load", Unit::S, 0.0, 86_400.0, "10 to 30 s automatic, minutes by hand");
        ATTENDED_HOURS = Field::new("attended_hours", "hours in which somebody is there to start it", Unit::HOUR, 0.0, 24.0, "two whole hours, from and to").whole();
        FUEL_PRICE = Field::new("fuel_price_per_l", "price of fuel", Unit::MONEY_PER_L, 0.0, 1e6, "not negative, delivered to the farm");
        FUEL_ESCALATION = Field::new("fuel_escalation_pct", "yearly rise of the price of fuel, nominal", Unit::PERCENT, -10.0, 60.0, "in per cent a year")
            .or(0.0, "prices held constant where nothing is stated");
        UPKEEP = Field::new("upkeep_per_hour", "upkeep for each running hour", Unit::MONEY_PER_H, 0.0, 1e6, "oil, filters and saving for its overhaul")
            .or(0.0, "none stated");
    }
}

section! {
    /// `[night_tank]`: a bigger tank, filled at other hours.
    night_tank = "night_tank" {
        CAPACITY = Field::new("capacity_m3", "content of the bigger tank when full", Unit::M3, 0.5, 5_000_000.0, "in place of the tank that is there, not beside it");
        HOURS = Field::new("hours", "hours of pumping on mains with the bigger tank", Unit::HOUR, 0.0, 24.0, "two whole hours, from and to").whole();
    }
}

section! {
    /// `[changeover]`: the times of a dual-mode plant.
    changeover = "changeover" {
        TO_DRIVE = Field::new("to_drive_s", "from the loss of the grid until the pump runs on the drive", Unit::S, 0.0, 3600.0, "confirmation, dead time, contacts, charging and ramp")
            .or(60.0, "usual practice");
        GRID_STABLE = Field::new("grid_stable_s", "grid back within its window before the plant returns to it", Unit::S, 0.0, 7200.0, "guards against a grid that comes and goes")
            .or(60.0, "usual practice");
        TO_MAINS = Field::new("to_mains_s", "from leaving the drive until the pump may run on mains", Unit::S, 0.0, 3600.0, "ramp down, dead time, contacts")
            .or(30.0, "usual practice");
    }
}

section! {
    /// `[money]`: capital, upkeep and the terms they are judged by.
    money = "money" {
        YEARS = Field::new("years", "years over which money is reckoned", Unit::YEAR, 1.0, 50.0, "whole years of the plant's life").whole()
            .or(20.0, "usual practice for PV plants");
        DISCOUNT = Field::new("discount_pct", "yearly discount rate, nominal", Unit::PERCENT, 0.0, 60.0, "cost of the owner's capital");
        ESCALATION = Field::new("price_escalation_pct", "yearly rise of energy prices, nominal", Unit::PERCENT, -10.0, 60.0, "in per cent a year")
            .or(0.0, "prices held constant where nothing is stated");
        EXPORT_CREDIT_ESCALATION = Field::new("export_credit_escalation_pct", "yearly rise of the credit for energy exported, nominal", Unit::PERCENT, -10.0, 60.0, "in per cent a year; only with export = \"paid\"")
            .or(0.0, "usual practice: an agreement fixes the credit, and it does not follow prices");
        INFLATION = Field::new("inflation_pct", "yearly rise of upkeep, nominal", Unit::PERCENT, -10.0, 60.0, "in per cent a year")
            .or(0.0, "prices held constant where nothing is stated");
        COST = Field::new("cost", "cost", Unit::MONEY, 0.0, 1e12, "not negative");
        EVERY_YEARS = Field::new("every_years", "years from one replacement to the next", Unit::YEAR, 1.0, 50.0, "whole years").whole();
        COST_PER_YEAR = Field::new("cost_per_year", "cost a year", Unit::MONEY, 0.0, 1e12, "not negative");
    }
}

/// Every section with its fields.
pub const SECTIONS: &[(&str, &[Field])] = &[
    (file::TITLE, file::ALL),
    (site::TITLE, site::ALL),
    (weather::TITLE, weather::ALL),
    (array::TITLE, array::ALL),
    (strings::TITLE, strings::ALL),
    (module::TITLE, module::ALL),
    (inverter::TITLE, inverter::ALL),
    (drive::TITLE, drive::ALL),
    (motor::TITLE, motor::ALL),
    (pump::TITLE, pump::ALL),
    (pump_set::TITLE, pump_set::ALL),
    (well::TITLE, well::ALL),
    (pipe::TITLE, pipe::ALL),
    (outlet::TITLE, outlet::ALL),
    (tank::TITLE, tank::ALL),
    (demand::TITLE, demand::ALL),
    (pumping::TITLE, pumping::ALL),
    (grid::TITLE, grid::ALL),
    (timetable::TITLE, timetable::ALL),
    (random::TITLE, random::ALL),
    (voltage::TITLE, voltage::ALL),
    (line::TITLE, line::ALL),
    (grid_input::TITLE, grid_input::ALL),
    (battery::TITLE, battery::ALL),
    (battery_use::TITLE, battery_use::ALL),
    (generator::TITLE, generator::ALL),
    (generator_use::TITLE, generator_use::ALL),
    (night_tank::TITLE, night_tank::ALL),
    (changeover::TITLE, changeover::ALL),
    (money::TITLE, money::ALL),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_default_is_allowed_and_has_a_source() {
        for (section, fields) in SECTIONS {
            for field in *fields {
                assert!(field.least <= field.greatest, "{section}.{}", field.key);
                if let Some(preset) = field.preset {
                    assert!(field.check(preset.value).is_ok(), "{section}.{}", field.key);
                    assert!(!preset.source.is_empty(), "{section}.{}", field.key);
                }
            }
        }
    }

    #[test]
    fn just_outside_the_range_is_a_fault_for_every_field() {
        for (section, fields) in SECTIONS {
            for field in *fields {
                let hair = 1e-6 * (field.greatest - field.least).max(1.0);
                assert!(field.check(field.least - hair).is_err(), "{section}.{}", field.key);
                assert!(field.check(field.greatest + hair).is_err(), "{section}.{}", field.key);
                assert!(field.check(field.least).is_ok() && field.check(field.greatest).is_ok());
            }
        }
    }

    #[test]
    fn keys_within_a_section_differ() {
        for (section, fields) in SECTIONS {
            for (i, a) in fields.iter().enumerate() {
                assert!(fields[i + 1..].iter().all(|b| a.key != b.key), "{section}.{}", a.key);
            }
        }
    }
}
