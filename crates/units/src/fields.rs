//! Every field of the plant file and of the equipment files, by section.
//!
//! A range is wide enough for every plant that makes sense and narrow enough to catch a wrong unit.

use crate::field::{Field, Unit};

/// What hours of the day may be.
const CLOCK_HOURS: &str = "whole hours, from and to";

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

mod rules;
pub use rules::{pumping, row_rule};

section! {
    /// Start of every file.
    file = "head of the file" {
        FORMAT = Field::new("format", "format of the file", Unit::COUNT, 1.0, 1.0, "this version reads format 1").whole();
    }
}

section! {
    /// `[site]`: the place of the plant.
    site = "site" {
        LATITUDE = Field::new("latitude_deg", "latitude", Unit::DEGREE, -66.0, 66.0, "north positive; beyond the polar circles the sun model is not valid");
        LONGITUDE = Field::new("longitude_deg", "longitude", Unit::DEGREE, -180.0, 180.0, "east positive");
        ALTITUDE = Field::new("altitude_m", "altitude above sea level", Unit::M, -430.0, 5000.0, "from the lowest shore to the highest farms");
        YEAR = Field::new("year", "simulation year", Unit::COUNT, 1950.0, 2100.0, "years for which sun positions and clock rules are reliable").whole();
        RECORD_LOW = Field::new("record_low_c", "lowest air temperature ever recorded near the site", Unit::CELSIUS, -60.0, 35.0, "ask the nearest weather service; string voltage is highest then");
        RECORD_HIGH = Field::new("record_high_c", "highest air temperature ever recorded near the site", Unit::CELSIUS, 0.0, 58.0, "ask the nearest weather service; string voltage is lowest then");
        HORIZON = Field::new("horizon_deg", "elevation of the horizon, in equal steps of azimuth", Unit::DEGREE, 0.0, 60.0, "clockwise from north; above 60° the site is a gorge");
    }
}

section! {
    /// `[weather]`: the weather file, or the means from which a weather year is generated.
    weather = "weather" {
        UTC_OFFSET = Field::new("utc_offset_h", "offset of the weather file's standard time from UTC", Unit::HOUR, -14.0, 14.0, "hours east of UTC: 2 for UTC+2, -3.5 for UTC−3:30");
        DAILY_GHI = Field::new("daily_ghi_kwh_m2", "daily global horizontal irradiation, mean by month", Unit::KWH_PER_M2_DAY, 0.0, 12.0, "the sunniest months on earth reach 9; divide a monthly sum by the days of the month");
        SEED = Field::new("seed", "random seed of the synthetic year", Unit::COUNT, 0.0, 4_294_967_295.0, "the same seed gives the same year").whole()
            .or(1.0, "every seed gives an equally likely year");
        AIR_MEAN = Field::new("air_mean_c", "mean air temperature by month", Unit::CELSIUS, -40.0, 45.0, "the hottest months on earth reach 40 °C");
        AIR_LOW = Field::new("air_low_c", "mean daily minimum air temperature by month", Unit::CELSIUS, -50.0, 40.0, "from the climate table of the nearest station");
        AIR_HIGH = Field::new("air_high_c", "mean daily maximum air temperature by month", Unit::CELSIUS, -35.0, 52.0, "from the climate table of the nearest station");
        CLOUD_SEED = Field::new("cloud_seed", "random seed of the clouds within the hour", Unit::COUNT, 0.0, 4_294_967_295.0, "the same seed gives the same clouds").whole()
            .or(1.0, "every seed gives equally likely clouds");
        WIND = Field::new("wind_m_s", "wind speed by month", Unit::M_PER_S, 0.0, 20.0, "mean over day and night, at the height of the modules")
            .or(1.0, "usual practice where the wind is not known: light wind, so modules run warm");
    }
}

section! {
    /// `[array]`: the PV array and its losses.
    array = "array" {
        TILT = Field::new("tilt_deg", "tilt of the modules", Unit::DEGREE, 0.0, 90.0, "0 is horizontal, 90 is vertical");
        AZIMUTH = Field::new("azimuth_deg", "direction that the modules face", Unit::DEGREE, 0.0, 360.0, "clockwise from north: 0 north, 90 east, 180 south, 270 west");
        AXIS_AZIMUTH = Field::new("axis_azimuth_deg", "direction of the tracker's axis", Unit::DEGREE, 0.0, 360.0, "clockwise from north: 0 or 180 for a north–south axis; a tilted axis slopes down in this direction")
            .or(0.0, "usual practice: a north–south axis");
        AXIS_TILT = Field::new("axis_tilt_deg", "tilt of the tracker's axis", Unit::DEGREE, 0.0, 45.0, "0 is horizontal; manufacturers allow slopes up to about 15°")
            .or(0.0, "usual practice: a horizontal axis");
        GREATEST_ROTATION = Field::new("greatest_rotation_deg", "maximum rotation of the tracker to each side", Unit::DEGREE, 0.0, 90.0, "0 stays horizontal, 90 reaches vertical")
            .or(60.0, "usual practice: manufacturers state 45° to 60°");
        ROW_PITCH = Field::new("row_pitch_m", "row pitch: horizontal distance between the same points of neighbouring rows", Unit::M, 0.3, 200.0, "more than the width of a row; rows 200 m apart do not shade each other");
        ROW_WIDTH = Field::new("row_width_m", "width of a row of modules, measured along the tilt", Unit::M, 0.2, 30.0, "one module in landscape is about 1 m, four modules in portrait about 9 m");
        MODULES_PER_STRING = Field::new("modules_per_string", "modules in series in a string", Unit::COUNT, 1.0, 60.0, "60 modules exceed every usual DC voltage limit").whole();
        STRINGS = Field::new("strings", "strings in parallel", Unit::COUNT, 1.0, 2000.0, "2000 strings are several megawatts").whole();
        STRINGS_PER_INPUT = Field::new("strings_per_input", "maximum number of the group's strings in parallel on one MPPT input of the inverter", Unit::COUNT, 1.0, 2000.0, "the last input may have fewer").whole();
        ALBEDO = Field::new("albedo", "share of sunlight that the ground reflects", Unit::ONE, 0.0, 0.9, "0.2 grass, 0.35 dry sand, 0.8 fresh snow")
            .or(0.2, "usual practice for grass and soil");
        SOILING = Field::new("soiling_pct", "sunlight lost to dust on the glass", Unit::PERCENT, 0.0, 60.0, "above 60% clean the array first")
            .or(3.0, "usual practice for arrays on farms that are cleaned");
        MISMATCH = Field::new("mismatch_pct", "mismatch loss: loss because modules differ", Unit::PERCENT, 0.0, 10.0, "under 1% for sorted modules, a few per cent for mixed ones")
            .or(1.0, "usual practice for modules from one delivery");
        LIGHT_INDUCED = Field::new("light_induced_pct", "light-induced degradation in the first hours", Unit::PERCENT, 0.0, 10.0, "manufacturers state up to 3%")
            .or(1.5, "usual practice for p-type silicon");
        UNAVAILABILITY = Field::new("unavailability_pct", "share of the time that the array is out of service", Unit::PERCENT, 0.0, 50.0, "out of service for at most half of the year")
            .or(0.5, "usual practice for plants with somebody on site");
        DEGRADATION = Field::new("yearly_degradation_pct", "power loss per year of age", Unit::PERCENT, 0.0, 5.0, "warranties allow up to about 1%")
            .or(0.5, "usual practice; field studies have medians near 0.5% a year");
        AGE = Field::new("age_years", "age of the modules in the simulation year", Unit::YEAR, 0.0, 50.0, "no modules are older than 50 years")
            .or(0.0, "a new plant");
        U0 = Field::new("u0_w_per_m2_k", "heat loss coefficient of the module in still air (Faiman U0)", Unit::W_PER_M2_K, 10.0, 60.0, "15 for modules close to a roof, 30 for open racks")
            .or(25.0, "mean of Faiman (2008)");
        U1 = Field::new("u1_w_s_per_m3_k", "increase of the heat loss coefficient per m/s of wind (Faiman U1)", Unit::W_S_PER_M3_K, 0.0, 15.0, "published values are between 4 and 11")
            .or(6.84, "mean of Faiman (2008)");
        NOCT = Field::new("noct_c", "nominal operating cell temperature", Unit::CELSIUS, 35.0, 65.0, "datasheets state 41 to 48 °C; more close to a roof")
            .or(45.0, "usual practice where the datasheet gives no value");
        DC_CABLE_LOSS = Field::new("dc_cable_loss_pct", "loss in the DC cables at rated array power", Unit::PERCENT, 0.0, 20.0, "usual practice 1% to 3%")
            .or(1.5, "usual practice 1% to 3%");
    }
}

section! {
    /// `[strings]`: the conditions at which strings are checked.
    strings = "strings" {
        NOON = Field::new("noon_w_m2", "irradiance on the array at a hot noon", Unit::W_PER_M2, 500.0, 1300.0, "1000 W/m² is strong sun; at the edge of a bright cloud 1300 is possible for seconds")
            .or(1000.0, "usual practice: the irradiance of standard test conditions");
        NOON_WIND = Field::new("noon_wind_m_s", "wind at a hot noon", Unit::M_PER_S, 0.0, 10.0, "light wind makes modules hot")
            .or(1.0, "usual practice: light wind, as in the definition of the nominal operating cell temperature");
        USEFUL_SPEED = Field::new("useful_speed_pct", "minimum pump speed on the strings at a hot noon", Unit::PERCENT, 20.0, 100.0, "in per cent of the speed that pump, well and drive allow")
            .or(90.0, "usual practice: at 90% speed a pump still gives most of its flow");
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
        CELLS = Field::new("cells", "cells in series", Unit::COUNT, 6.0, 400.0, "count cells in series only: a module with 144 half cells has 72").whole();
        SYSTEM_V = Field::new("system_voltage_v", "maximum system voltage of the module", Unit::V, 50.0, 2000.0, "datasheets state 600, 1000 or 1500 V")
            .or(1000.0, "usual practice without a datasheet; newer modules allow 1500 V");
        GREATEST_FUSE = Field::new("greatest_fuse_a", "maximum series fuse rating of the module", Unit::A, 1.0, 60.0, "datasheets state 10 to 35 A")
            .or(15.0, "usual practice for modules of 6 inch cells without a datasheet");
    }
}

section! {
    /// An inverter's datasheet, and its installation.
    inverter = "inverter" {
        RATED = Field::new("rated_power_kw", "rated AC output", Unit::KW, 0.2, 5000.0, "from one small string to a central inverter");
        LOAD = Field::new("load_pct", "loads of the efficiency points", Unit::PERCENT, 1.0, 120.0, "per cent of rated output");
        EFFICIENCY = Field::new("efficiency_pct", "efficiency at those loads", Unit::PERCENT, 30.0, 99.9, "95, not 0.95");
        START = Field::new("start_power_w", "DC power at which it starts to feed in", Unit::W, 0.0, 20_000.0, "usually below 1% of rated power");
        MPPT_MIN = Field::new("mppt_min_v", "lower limit of the MPPT window", Unit::V, 20.0, 1500.0, "DC inputs go up to 1500 V");
        MPPT_MAX = Field::new("mppt_max_v", "upper limit of the MPPT window", Unit::V, 20.0, 1500.0, "DC inputs go up to 1500 V");
        GREATEST_DC_V = Field::new("greatest_dc_v", "maximum DC voltage of the inverter", Unit::V, 20.0, 2000.0, "a higher voltage destroys the inverter; not below the upper limit of its MPPT window");
        MPPT_INPUTS = Field::new("mppt_inputs", "number of MPPT inputs of the inverter", Unit::COUNT, 1.0, 200.0, "each tracks its own maximum power point").whole();
        INPUT_STRINGS = Field::new("strings_per_input", "number of strings that fit on one MPPT input", Unit::COUNT, 1.0, 400.0, "pairs of connectors or terminals on an input").whole();
        INPUT_CURRENT = Field::new("input_current_a", "maximum operating current of an MPPT input", Unit::A, 1.0, 5000.0, "the maximum that it draws; any excess is clipped");
        INPUT_SHORT_CIRCUIT = Field::new("input_short_circuit_a", "maximum short-circuit current of an MPPT input", Unit::A, 1.0, 8000.0, "short-circuit current of the strings that it accepts; not below its operating current");
        GREATEST_DC_POWER = Field::new("greatest_dc_power_kw", "maximum PV power connected to the inverter", Unit::KW, 0.2, 20_000.0, "at standard test conditions, as the manufacturer states it");
        AC_CABLE_LOSS = Field::new("ac_cable_loss_pct", "loss in the AC cable at rated output", Unit::PERCENT, 0.0, 20.0, "usual practice up to 3%")
            .or(1.0, "usual practice 1% to 3%");
        TRACKING = Field::new("tracking_loss_pct", "part of the maximum power that the inverter does not reach in steady sun", Unit::PERCENT, 0.0, 10.0, "datasheets state 0.1 to 1%")
            .or(0.5, "usual practice, no source");
        TRACKING_BROKEN = Field::new("tracking_broken_loss_pct", "part of the maximum power that the inverter does not reach under broken cloud", Unit::PERCENT, 0.0, 10.0, "0.5 to 2% are usual")
            .or(1.0, "usual practice, no source");
        HEAT_DERATING = Field::new("heat_derating_pct_per_k", "part of the rated output that the inverter loses for each kelvin above its derating temperature", Unit::PERCENT_PER_K, 0.0, 10.0, "1 to 4% per K are usual")
            .or(2.0, "usual practice, no source");
        DERATING_TEMPERATURE = Field::new("derating_temperature_c", "air temperature above which the inverter gives less", Unit::CELSIUS, 20.0, 70.0, "datasheets state 40 to 50 °C")
            .or(45.0, "usual practice, no source");
        RECONNECTION = Field::new("reconnection_s", "reconnection time: wait before feeding in after the grid is back", Unit::S, 0.0, 3600.0, "grid codes require 20 s to 10 min")
            .or(60.0, "60 s in several grid codes (cited from memory); check the local code");
    }
}

section! {
    /// A drive's datasheet.
    drive = "drive" {
        RATED = Field::new("rated_power_kw", "rated output", Unit::KW, 0.2, 2000.0, "from the smallest to the largest low-voltage drive");
        LOAD = Field::new("load_pct", "loads of the efficiency points", Unit::PERCENT, 1.0, 120.0, "per cent of rated output");
        EFFICIENCY = Field::new("efficiency_pct", "efficiency at those loads", Unit::PERCENT, 30.0, 99.9, "95, not 0.95");
        GREATEST = Field::new("greatest_frequency_hz", "maximum output frequency in this plant", Unit::HZ, 30.0, 120.0, "motor and pump allow little more than rated speed");
        DROP = Field::new("voltage_drop_pct", "extra bus voltage needed above √2 times the motor voltage", Unit::PERCENT, 0.0, 15.0, "voltage drops of drive, filter and cable")
            .or(2.0, "usual practice");
        GREATEST_DC_V = Field::new("greatest_dc_v", "maximum DC voltage of the drive", Unit::V, 20.0, 2000.0, "a higher voltage destroys the drive; usually 400 to 450 V for 230 V motors, 800 V for 400 V motors");
        START_DC_V = Field::new("start_dc_v", "DC voltage at which the drive starts", Unit::V, 10.0, 1500.0, "below its maximum DC voltage");
        DC_CURRENT = Field::new("dc_current_a", "maximum operating current of the drive's DC input", Unit::A, 0.5, 5000.0, "the maximum that it draws; any excess is clipped");
        DC_SHORT_CIRCUIT = Field::new("dc_short_circuit_a", "maximum short-circuit current of the drive's DC input", Unit::A, 1.0, 8000.0, "short-circuit current of the strings that it accepts; not below its operating current");
        GREATEST_DC_POWER = Field::new("greatest_dc_power_kw", "maximum PV power connected to the drive", Unit::KW, 0.2, 20_000.0, "at standard test conditions, as the manufacturer states it");
        MAX_POWER_UPS = Field::new("max_power_ups_per_day", "maximum number of power-ups of the drive in a day", Unit::COUNT, 1.0, 1440.0, "each one charges the DC bus through a resistor, which must cool down; more than one a minute is a wrong unit").whole();
        TRACKING_STATIC = Field::new("tracking_static_loss_pct", "part of the maximum power that the drive does not reach in steady sun", Unit::PERCENT, 0.0, 10.0, "the error of its tracking while nothing changes")
            .or(1.0, "usual practice, no source");
        TRACKING_CLEAR = Field::new("tracking_clear_loss_pct", "part of the maximum power that the drive misses in addition as a clear or overcast day changes", Unit::PERCENT, 0.0, 10.0, "the tracking follows slowly, as the pump's speed must")
            .or(2.0, "usual practice, no source");
        TRACKING_BROKEN = Field::new("tracking_broken_loss_pct", "part of the maximum power that the drive misses in addition under broken cloud", Unit::PERCENT, 0.0, 10.0, "published values range from 0.3 to 10%")
            .or(5.0, "usual practice, no source");
        RESTART_POWER = Field::new("restart_power_pct", "power at which a stopped set starts on the sun, as a share of its power at the start frequency", Unit::PERCENT, 100.0, 300.0, "100% starts it at the least power that can run it")
            .or(125.0, "usual practice, no source");
        RESTART_CONFIRM = Field::new("restart_confirm_s", "time for which that power must last before the set starts", Unit::S, 0.0, 600.0, "usually a minute or less")
            .or(60.0, "usual practice, no source");
        RETRY_WAIT = Field::new("retry_wait_s", "waits after the first, second … failure of the sun", Unit::S, 0.0, 7200.0, "from no wait to 2 h; the last value repeats");
    }
}

section! {
    /// A motor's datasheet.
    motor = "motor file" {
        RATED = Field::new("rated_power_kw", "rated shaft power", Unit::KW, 0.2, 2000.0, "shaft power, not electrical input");
        FREQUENCY = Field::new("rated_frequency_hz", "rated frequency", Unit::HZ, 30.0, 120.0, "usually 50 or 60 Hz");
        VOLTAGE = Field::new("rated_voltage_v", "rated voltage between phases", Unit::V, 50.0, 1000.0, "low-voltage motors");
        LOAD = Field::new("load_pct", "loads of the efficiency points", Unit::PERCENT, 1.0, 120.0, "per cent of rated shaft power");
        EFFICIENCY = Field::new("efficiency_pct", "efficiency at those loads", Unit::PERCENT, 20.0, 99.0, "80, not 0.80");
        LEAST = Field::new("least_frequency_hz", "minimum frequency in continuous operation", Unit::HZ, 5.0, 60.0, "the bearings of submersible motors need about 30 Hz")
            .or(30.0, "usual practice for submersible motors");
        MAX_STARTS = Field::new("max_starts_per_day", "maximum number of motor starts in a day", Unit::COUNT, 1.0, 1440.0, "usual practice (no source): of the order of 100 for submersible motors, fewer for large ones").whole();
        LEAST_GAP = Field::new("min_time_between_starts_s", "minimum time between two starts of the motor", Unit::S, 1.0, 7200.0, "usual practice (no source): about a minute for small submersible motors, up to 15 min for large ones");
    }
}

section! {
    /// A pump's datasheet.
    pump = "pump file" {
        FLOW = Field::new("flow_m3_h", "flow at the points of the curve", Unit::M3_PER_H, 0.0, 20_000.0, "in m³/h, not l/s: 1 l/s is 3.6 m³/h");
        HEAD = Field::new("head_m", "head at those flows", Unit::M, 0.0, 1500.0, "in metres of water, not bar: 1 bar is about 10.2 m");
        EFFICIENCY = Field::new("efficiency_pct", "pump efficiency at those flows", Unit::PERCENT, 0.0, 92.0, "in per cent; the best large pumps reach 92%");
        SHAFT_POWER = Field::new("shaft_power_kw", "shaft power at those flows", Unit::KW, 0.0, 5000.0, "shaft power, not electrical input");
    }
}

section! {
    /// `[pump]`: the pump in this plant.
    pump_set = "pump" {
        MOTOR_CABLE_LOSS = Field::new("motor_cable_loss_pct", "loss in the motor cable at rated shaft power", Unit::PERCENT, 0.0, 15.0, "usual practice up to 3%")
            .or(2.0, "usual practice 1% to 3%");
        WANTED = Field::new("wanted_frequency_hz", "wanted frequency on the drive", Unit::HZ, 20.0, 120.0, "between the motor's minimum and the drive's maximum frequency");
    }
}

section! {
    /// `[well]`: borehole, well, river or dam.
    well = "well" {
        STATIC_LEVEL = Field::new("static_level_m", "standing water level below the well head", Unit::M, 0.0, 600.0, "600 m is deeper than usual borehole pumps reach");
        AQUIFER_LOSS = Field::new("aquifer_loss_m_per_m3_h", "aquifer loss coefficient B: drawdown in proportion to flow", Unit::M_PER_M3_H, 0.0, 50.0, "a well above 50 m per m³/h is practically dry")
            .or(0.0, "a river or dam has no drawdown");
        WELL_LOSS = Field::new("well_loss_m_per_m3_h2", "well loss coefficient C: drawdown in proportion to flow squared", Unit::M_PER_M3_H2, 0.0, 5.0, "in m per (m³/h)²: 0.0005 for a good well, 0.005 for a clogged one")
            .or(0.0, "a river or dam has no drawdown");
        INTAKE_DEPTH = Field::new("intake_depth_m", "depth of the pump's intake below the well head", Unit::M, 0.5, 700.0, "must be below the pumped water level");
        INTAKE_MARGIN = Field::new("intake_margin_m", "minimum water depth above the intake", Unit::M, 0.0, 30.0, "keeps air out of the pump")
            .or(2.0, "usual practice");
        WATER_TEMPERATURE = Field::new("water_temperature_c", "water temperature", Unit::CELSIUS, 1.0, 45.0, "water that a pump can handle")
            .or(20.0, "usual practice where it is not measured");
    }
}

section! {
    /// `[[pipe]]`: one length of pipe, in series with the others.
    pipe = "pipe" {
        BORE = Field::new("bore_mm", "inner diameter", Unit::MM, 10.0, 2000.0, "inner diameter, not nominal diameter");
        LENGTH = Field::new("length_m", "length", Unit::M, 0.1, 50_000.0, "from one fitting to a long supply main; in metres, not kilometres");
        ROUGHNESS = Field::new("roughness_mm", "wall roughness", Unit::MM, 0.0, 10.0, "0.0015 plastic, 0.045 new steel, 0.15 galvanised");
        FITTINGS = Field::new("fittings_k", "sum of the loss coefficients K of the fittings", Unit::ONE, 0.0, 500.0, "an elbow is about 0.9, a check valve about 2.5")
            .or(0.0, "no fittings given");
    }
}

section! {
    /// `[outlet]`: where the water goes.
    outlet = "outlet" {
        LIFT = Field::new("lift_m", "height of the outlet above the well head", Unit::M, -300.0, 600.0, "negative where the outlet is lower");
        PRESSURE = Field::new("pressure_bar", "pressure needed at the outlet", Unit::BAR, 0.0, 40.0, "0 for a free outlet into a tank")
            .or(0.0, "a free outlet");
    }
}

section! {
    /// `[tank]`: the water store.
    tank = "tank" {
        CAPACITY = Field::new("capacity_m3", "volume of the tank when full", Unit::M3, 0.5, 5_000_000.0, "from a small tank to a dam");
        RESTART = Field::new("restart_pct", "level at which the pump starts again after the tank was full", Unit::PERCENT, 1.0, 99.0, "of the capacity; below full, above the low mark")
            .or(90.0, "usual practice for float switches");
        LOW_MARK = Field::new("low_mark_pct", "level below which mains pumping is allowed at any hour", Unit::PERCENT, 0.0, 95.0, "of the capacity; below the restart level")
            .or(20.0, "usual practice");
    }
}

section! {
    /// `[demand]`: the water demand.
    demand = "demand" {
        DAILY = Field::new("daily_m3", "daily water demand, by month", Unit::M3_PER_DAY, 0.0, 1_000_000.0, "a daily mean of the month, not its sum; 0 in months without demand");
        HOUR_SHARE = Field::new("hour_share", "share of the daily demand in each hour", Unit::ONE, 0.0, 1000.0, "24 weights; only their proportions count");
    }
}

section! {
    /// `[grid]` and `[tariff]`: limits and prices of the utility.
    grid = "grid" {
        EXPORT_LIMIT = Field::new("export_limit_kw", "export limit: maximum power fed into the grid", Unit::KW, 0.01, 100_000.0, "from the export agreement; without export write export = \"none\"");
        HOUR_CREDIT = Field::new("credit_per_kwh", "credit for exported energy in these hours", Unit::MONEY_PER_KWH, 0.0, 1e6, "not negative; it replaces `export_credit_per_kwh` in these hours");
        EXPORT_CREDIT = Field::new("export_credit_per_kwh", "credit for exported energy", Unit::MONEY_PER_KWH, 0.0, 1e6, "not negative; 0 means export = \"unpaid\"");
        PRICE = Field::new("per_kwh", "price of energy", Unit::MONEY_PER_KWH, 0.0, 1e6, "not negative");
        MONTH = Field::new("months", "months of the season", Unit::COUNT, 1.0, 12.0, "1 is January").whole();
        FROM_HOUR = Field::new("from_h", "first hour of the price", Unit::HOUR, 0.0, 23.0, "whole hours of the civil day").whole();
        TO_HOUR = Field::new("to_h", "hour at which the price ends", Unit::HOUR, 1.0, 24.0, "whole hours of the civil day; 24 is midnight").whole();
        FIXED = Field::new("fixed_per_month", "fixed charge per month", Unit::MONEY, 0.0, 1e9, "not negative").or(0.0, "none given");
        LOAD = Field::new("kw", "load of the farm in an hour", Unit::KW, 0.0, 100_000.0, "a mean over the hour; not negative");
    }
}

section! {
    /// `[grid.timetable]`: a rotating timetable of outages.
    timetable = "grid.timetable" {
        STAGE = Field::new("stage", "active stage of the timetable", Unit::COUNT, 0.0, 20.0, "0 means no outages; a stage includes the slots of all lower stages").whole();
        DAY = Field::new("day", "day of the month", Unit::COUNT, 1.0, 31.0, "a rotating timetable depends on the day of the month").whole();
    }
}

section! {
    /// `[grid.random]`: outages drawn at random.
    random = "grid.random" {
        SEED = Field::new("seed", "random seed of the outages", Unit::COUNT, 0.0, 4_294_967_295.0, "the same seed gives the same outages").whole();
        MEAN_OUTAGE = Field::new("mean_outage_h", "mean length of an outage", Unit::HOURS, 0.05, 720.0, "three minutes to one month");
        MEAN_UP = Field::new("mean_up_h", "mean time from the end of an outage to the next outage", Unit::HOURS, 0.05, 87_600.0, "three minutes to ten years");
        SHARE = Field::new("share_pct", "share of the time that the grid is down", Unit::PERCENT, 0.01, 99.0, "in per cent of all hours");
        HOUR_WEIGHT = Field::new("hour_weight", "weight of each hour of the day in the failure rate", Unit::ONE, 0.0, 1000.0, "24 weights; only their proportions count");
        MONTH_WEIGHT = Field::new("month_weight", "weight of each month in the failure rate", Unit::ONE, 0.0, 1000.0, "12 weights; only their proportions count");
    }
}

section! {
    /// `[grid.voltage]`: the voltage window outside which the grid cannot be used.
    voltage = "grid.voltage" {
        LEAST = Field::new("least_pu", "minimum usable voltage", Unit::ONE, 0.3, 1.0, "as a fraction of the nominal voltage")
            .or(0.85, "usual practice; check the voltage window of the device");
        GREATEST = Field::new("greatest_pu", "maximum usable voltage", Unit::ONE, 1.0, 1.6, "as a fraction of the nominal voltage")
            .or(1.10, "usual practice; check the voltage window of the device");
        NOMINAL = Field::new("nominal_v", "nominal voltage of the readings", Unit::V, 50.0, 132_000.0, "phase or line voltage, the same kind as the readings");
        READING = Field::new("voltage_pu", "voltage of the grid", Unit::ONE, 0.0, 3.0, "as a fraction of the nominal voltage; 0 is an outage");
    }
}

section! {
    /// `[grid.line]`: the line whose voltage rises with the farm's export.
    line = "grid.line" {
        RESISTANCE = Field::new("resistance_ohm_per_km", "resistance of one conductor of the line", Unit::OHM_PER_KM, 0.01, 20.0, "35 mm² aluminium 0.868, 95 mm² 0.320 (IEC 60228, at 20 °C)");
        LENGTH = Field::new("length_m", "length of the line to the transformer", Unit::M, 1.0, 100_000.0, "from the farm's meter");
        NOMINAL = Field::new("nominal_v", "nominal voltage between phases", Unit::V, 100.0, 36_000.0, "400 V on most farms")
            .or(400.0, "usual practice for low-voltage supplies");
        NO_LOAD = Field::new("no_load_voltage_pct", "voltage at the farm without export", Unit::PERCENT, 80.0, 120.0, "in per cent of nominal; measure it at sunny hours");
        GREATEST = Field::new("greatest_voltage_pct", "voltage at which the inverters disconnect from the grid", Unit::PERCENT, 100.0, 130.0, "in per cent of nominal; set by the grid code")
            .or(110.0, "usual practice; check the local grid code");
    }
}

section! {
    /// `[grid_input]`: mains on the drives' second input.
    grid_input = "grid_input" {
        HOURS = Field::new("hours", "hours in which mains may supply the drives' second input", Unit::HOUR, 0.0, 24.0, super::CLOCK_HOURS).whole();
        WANTED_SPEED = Field::new("wanted_speed_pct", "minimum pump speed that mains maintains in each hour, in per cent of the wanted frequency", Unit::PERCENT, 20.0, 100.0, "24 values; the array may run the pump faster");
        TAKES_OVER = Field::new("takes_over_below_pct", "pump speed below which the drive switches from array to mains, in per cent of the speed that mains maintains", Unit::PERCENT, 0.0, 100.0, "0: only when the array cannot run the pump at all")
            .or(0.0, "solar priority: mains takes over when the array cannot run the pump");
        LINE_VOLTAGE = Field::new("line_voltage_v", "voltage between phases at the drives' second input", Unit::V, 100.0, 1000.0, "the rectifier holds the DC bus at 1.35 times this")
            .or(400.0, "usual practice for low-voltage supplies");
    }
}

section! {
    /// A battery's datasheet, with its inverter.
    battery = "battery file" {
        CAPACITY = Field::new("capacity_kwh", "energy capacity, from empty to full", Unit::KWH, 0.2, 100_000.0, "as the manufacturer states it");
        LEAST = Field::new("least_content_pct", "minimum content: the battery does not discharge below it", Unit::PERCENT, 0.0, 90.0, "of the capacity; protects the battery's life")
            .or(10.0, "usual practice for lithium batteries");
        CHARGE = Field::new("charge_kw", "maximum charge power, AC", Unit::KW, 0.1, 50_000.0, "the lower of the battery's and its inverter's");
        DISCHARGE = Field::new("discharge_kw", "maximum discharge power, AC", Unit::KW, 0.1, 50_000.0, "the lower of the battery's and its inverter's");
        CHARGE_EFFICIENCY = Field::new("charge_efficiency_pct", "efficiency from AC into the battery", Unit::PERCENT, 50.0, 100.0, "including its inverter")
            .or(95.0, "usual practice: about 90% round trip");
        DISCHARGE_EFFICIENCY = Field::new("discharge_efficiency_pct", "efficiency from the battery to AC", Unit::PERCENT, 50.0, 100.0, "including its inverter")
            .or(95.0, "usual practice: about 90% round trip");
    }
}

section! {
    /// `[battery]`: how the battery is used.
    battery_use = "battery" {
        RESERVE = Field::new("reserve_pct", "content kept for outages while the grid is on", Unit::PERCENT, 0.0, 100.0, "of the capacity, not below the minimum content")
            .or(40.0, "usual practice where outages last a few hours");
        GRID_CHARGES = Field::new("grid_charges_to_pct", "content up to which the grid charges the battery", Unit::PERCENT, 0.0, 100.0, "of the capacity; 0: only the array charges it; default: the reserve");
        RESTART = Field::new("restart_pct", "content at which supply without the grid restarts after the battery ran empty", Unit::PERCENT, 1.0, 100.0, "of the capacity, above the minimum content")
            .or(25.0, "usual practice");
    }
}

section! {
    /// A generator's datasheet.
    generator = "generator file" {
        RATED = Field::new("rated_power_kw", "rated output", Unit::KW, 0.5, 20_000.0, "prime rating at the site's altitude, in kW, not kVA");
        LEAST_LOAD = Field::new("least_load_pct", "minimum load for continuous operation", Unit::PERCENT, 0.0, 80.0, "of rated output; below it a diesel engine builds up soot, and a warning gives the hours; fuel does not depend on it")
            .or(30.0, "usual practice for diesel generators");
        LOAD = Field::new("load_pct", "loads of the fuel points", Unit::PERCENT, 0.0, 120.0, "per cent of rated output");
        FUEL = Field::new("fuel_l_per_h", "fuel consumption at those loads", Unit::L_PER_H, 0.01, 20_000.0, "from the datasheet or measured; not in g/kWh");
    }
}

section! {
    /// `[generator]`: how the generator is used.
    generator_use = "generator" {
        START_DELAY = Field::new("start_delay_s", "time from the loss of the grid until the generator supplies load", Unit::S, 0.0, 86_400.0, "10 to 30 s with automatic start, minutes by hand");
        ATTENDED_HOURS = Field::new("attended_hours", "hours in which somebody is on site to start it", Unit::HOUR, 0.0, 24.0, super::CLOCK_HOURS).whole();
        SUN_SHARE = Field::new("sun_share_pct", "share of its wanted flow from which on the sun alone runs a pump, without the generator", Unit::PERCENT, 0.0, 100.0, "0: the sun keeps every pump that it can start, even at a trickle; 100: only the full flow keeps the generator away")
            .or(50.0, "usual practice, no source");
        FUEL_PRICE = Field::new("fuel_price_per_l", "price of fuel", Unit::MONEY_PER_L, 0.0, 1e6, "not negative, delivered to the farm");
        FUEL_ESCALATION = Field::new("fuel_escalation_pct", "yearly increase of the fuel price, nominal", Unit::PERCENT, -10.0, 60.0, "5 means a rise of 5% each year")
            .or(0.0, "constant prices where nothing is given");
        UPKEEP = Field::new("upkeep_per_hour", "upkeep per running hour", Unit::MONEY_PER_H, 0.0, 1e6, "oil, filters and savings for the overhaul")
            .or(0.0, "none given");
    }
}

section! {
    /// `[night_tank]`: a bigger tank, filled at other hours.
    night_tank = "night_tank" {
        CAPACITY = Field::new("capacity_m3", "volume of the bigger tank when full", Unit::M3, 0.5, 5_000_000.0, "total volume: it replaces the present tank");
        HOURS = Field::new("hours", "hours of pumping on mains with the bigger tank", Unit::HOUR, 0.0, 24.0, super::CLOCK_HOURS).whole();
    }
}

section! {
    /// `[changeover]`: the times of a dual-mode plant.
    changeover = "changeover" {
        TO_DRIVE = Field::new("to_drive_s", "time from the loss of the grid until the pump runs on the drive", Unit::S, 0.0, 3600.0, "confirmation, dead time, contactors, charging and ramp")
            .or(60.0, "usual practice");
        GRID_STABLE = Field::new("grid_stable_s", "time that the grid must be stable before the plant switches back to it", Unit::S, 0.0, 7200.0, "avoids switching back and forth on an unstable grid")
            .or(60.0, "usual practice");
        TO_MAINS = Field::new("to_mains_s", "time from leaving the drive until the pump may run on mains", Unit::S, 0.0, 3600.0, "ramp down, dead time, contactors")
            .or(30.0, "usual practice");
        RATED_CYCLES = Field::new("rated_cycles", "cycles for which the contacts of the changeover are rated", Unit::COUNT, 100.0, 100_000_000.0, "datasheets state the electrical or the mechanical life: thousands for switches moved by hand, millions for contactors").whole();
    }
}

section! {
    /// `[money]`: capital, upkeep and the terms they are judged by.
    money = "money" {
        YEARS = Field::new("years", "years of the money calculation", Unit::YEAR, 1.0, 50.0, "whole years, the life of the plant").whole()
            .or(20.0, "usual practice for PV plants");
        DISCOUNT = Field::new("discount_pct", "yearly discount rate, nominal", Unit::PERCENT, 0.0, 60.0, "the owner's cost of capital");
        ESCALATION = Field::new("price_escalation_pct", "yearly increase of energy prices, nominal", Unit::PERCENT, -10.0, 60.0, "5 means a rise of 5% each year")
            .or(0.0, "constant prices where nothing is given");
        EXPORT_CREDIT_ESCALATION = Field::new("export_credit_escalation_pct", "yearly increase of the credit for exported energy, nominal", Unit::PERCENT, -10.0, 60.0, "2 means a rise of 2% each year; only with export = \"paid\"")
            .or(0.0, "usual practice: the credit is fixed by an agreement and does not follow prices");
        INFLATION = Field::new("inflation_pct", "yearly increase of upkeep, nominal", Unit::PERCENT, -10.0, 60.0, "5 means a rise of 5% each year")
            .or(0.0, "constant prices where nothing is given");
        LOST_WATER = Field::new("value_of_lost_water_per_m3", "value of a cubic metre that is missing", Unit::MONEY_PER_M3, 0.0, 1e6, "not negative; what the crop or herd loses, or what water from elsewhere costs");
        LOST_LOAD = Field::new("value_of_lost_load_per_kwh", "value of a kilowatt-hour of load that is not served", Unit::MONEY_PER_KWH, 0.0, 1e6, "not negative; what the farm loses without that power");
        COST = Field::new("cost", "cost (with `per`: of one unit)", Unit::MONEY, 0.0, 1e12, "not negative");
        OWNED = Field::new("owned", "quantity that the farm already owns, in the unit of `per`", Unit::ONE, 0.0, 1e9, "not negative; it is subtracted from what the arrangement has")
            .or(0.0, "everything is bought");
        EVERY_YEARS = Field::new("every_years", "years from one replacement to the next", Unit::YEAR, 1.0, 50.0, "whole years").whole();
        COST_PER_YEAR = Field::new("cost_per_year", "cost per year (with `per`: of one unit)", Unit::MONEY, 0.0, 1e12, "not negative");
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
    (row_rule::TITLE, row_rule::ALL),
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
