//! The plant file.

use daylift_plant::{Arrangement, Wiring};
use daylift_units::Field;
use daylift_units::fields::{
    array, battery_use, changeover, demand, file, generator_use, grid, grid_input, inverter, line, money, night_tank,
    outlet, pipe, pump_set, pumping, random, site, strings, tank, timetable, voltage, weather, well,
};

use super::{
    Key, Table, What, choice, flag, monthly, named, number, numbers, one_or_many, path, section, sections, text,
};

/// The plant file.
pub const PLANT: Table = Table {
    keys: &[
        number(&file::FORMAT),
        named("name of the plant"),
        choice(
            "reference",
            "today's way, against which money is reckoned",
            ARRANGEMENTS,
        ),
        Key::new(
            "assumed",
            "values that are not confirmed yet: keys with their section, whole sections, or \"*\"",
            What::Keys,
        )
        .optional(),
        section("site", &SITE),
        section("weather", &WEATHER),
        section("array", &ARRAY).optional(),
        section("strings", &STRINGS).optional(),
        one_or_many("inverter", &FEEDER).optional(),
        section("drive", &DRIVE_IN_PLANT).optional(),
        section("pump", &PUMP_SET).optional(),
        section("well", &WELL).optional(),
        sections("pipe", &PIPE).optional(),
        section("outlet", &OUTLET).optional(),
        sections("pump_set", &NAMED_SET).optional(),
        section("tank", &TANK),
        section("demand", &DEMAND),
        section("pumping", &PUMPING).optional(),
        section("grid", &GRID).optional(),
        sections("load", &LOAD).optional(),
        section("tariff", &TARIFF).optional(),
        section("grid_input", &GRID_INPUT).optional(),
        section("battery", &BATTERY_USE).optional(),
        section("generator", &GENERATOR_USE).optional(),
        section("night_tank", &NIGHT_TANK).optional(),
        section("changeover", &CHANGEOVER).optional(),
        section("money", &MONEY),
    ],
};

const ARRANGEMENTS: &[&str] = &arrangement_ids();

const fn arrangement_ids() -> [&'static str; Arrangement::ALL.len()] {
    let mut ids = [""; Arrangement::ALL.len()];
    let mut i = 0;
    while i < ids.len() {
        ids[i] = Arrangement::ALL[i].id();
        i += 1;
    }
    ids
}

const WIRINGS: &[&str] = &wiring_ids();

const fn wiring_ids() -> [&'static str; Wiring::ALL.len()] {
    let mut ids = [""; Wiring::ALL.len()];
    let mut i = 0;
    while i < ids.len() {
        ids[i] = Wiring::ALL[i].id();
        i += 1;
    }
    ids
}

/// Who may bear a cost: every row, and what stands beside a wiring.
const BEARERS: &[&str] = &bearer_ids();

const fn bearer_ids() -> [&'static str; Arrangement::ALL.len() + 2] {
    let mut ids = ["generator"; Arrangement::ALL.len() + 2];
    ids[1] = "night-tank";
    let mut i = 0;
    while i < Arrangement::ALL.len() {
        ids[i + 2] = Arrangement::ALL[i].id();
        i += 1;
    }
    ids
}

const SITE: Table = Table {
    keys: &[
        number(&site::LATITUDE),
        number(&site::LONGITUDE),
        number(&site::ALTITUDE),
        text("time_zone", "time zone of the site, as in the IANA time zone database"),
        number(&site::YEAR),
        number(&site::RECORD_LOW).optional(),
        number(&site::RECORD_HIGH).optional(),
        numbers(&site::HORIZON, None).optional(),
    ],
};

const WEATHER: Table = Table {
    keys: &[
        path("file", "weather file").optional(),
        flag("synthetic", "whether the year is made from twelve means").optional(),
        numbers(&weather::DAILY_GHI, Some(12)).optional(),
        number(&weather::SEED),
        monthly(&weather::AIR_MEAN).optional(),
        monthly(&weather::AIR_LOW).optional(),
        monthly(&weather::AIR_HIGH).optional(),
        monthly(&weather::WIND),
        flag("minute_clouds", "whether clouds pass within the hour").optional(),
        number(&weather::CLOUD_SEED),
        choice("sky_model", "model of the sky's light", &["hay-davies", "perez"]).optional(),
        choice(
            "stamp",
            "part of an interval that its time stands for, in plain CSV",
            &["start", "end", "middle"],
        )
        .optional(),
        number(&weather::UTC_OFFSET).optional(),
    ],
};

const ARRAY: Table = Table {
    keys: &[
        path("module", "module file"),
        number(&array::TILT).optional(),
        number(&array::AZIMUTH).optional(),
        choice("mounting", "how the modules are mounted", &["fixed", "single-axis"]).optional(),
        number(&array::AXIS_AZIMUTH),
        number(&array::AXIS_TILT),
        number(&array::GREATEST_ROTATION),
        flag("backtracking", "whether the tracker turns back from its own shade").optional(),
        number(&array::ROW_PITCH).optional(),
        number(&array::ROW_WIDTH).optional(),
        choice(
            "row_shade",
            "what shade on a row's edge does to its strings",
            &["in-proportion", "whole"],
        )
        .optional(),
        number(&array::MODULES_PER_STRING).optional(),
        number(&array::STRINGS).optional(),
        number(&array::STRINGS_PER_INPUT).optional(),
        number(&array::ALBEDO),
        monthly(&array::SOILING),
        number(&array::MISMATCH),
        number(&array::LIGHT_INDUCED),
        number(&array::UNAVAILABILITY),
        number(&array::DEGRADATION),
        number(&array::AGE),
        choice("cell_temperature", "model of cell temperature", &["faiman", "noct"]).optional(),
        number(&array::NOCT),
        number(&array::U0),
        number(&array::U1),
        number(&array::DC_CABLE_LOSS),
        sections("plane", &PLANE).optional(),
        sections("group", &GROUP).optional(),
    ],
};

const PLANE: Table = Table {
    keys: &[
        named("name of the plane"),
        number(&array::TILT).optional(),
        number(&array::AZIMUTH).optional(),
        choice("mounting", "how the modules are mounted", &["fixed", "single-axis"]).optional(),
        number(&array::AXIS_AZIMUTH),
        number(&array::AXIS_TILT),
        number(&array::GREATEST_ROTATION),
        flag("backtracking", "whether the tracker turns back from its own shade").optional(),
        number(&array::ROW_PITCH).optional(),
        number(&array::ROW_WIDTH).optional(),
        choice(
            "row_shade",
            "what shade on a row's edge does to its strings",
            &["in-proportion", "whole"],
        )
        .optional(),
    ],
};

const GROUP: Table = Table {
    keys: &[
        named("name of the string group"),
        text("plane", "plane that the group lies on"),
        number(&array::MODULES_PER_STRING),
        number(&array::STRINGS),
        number(&array::STRINGS_PER_INPUT).optional(),
        text("inverter", "inverter of the group").optional(),
        text("drive", "pump set whose drive the group feeds").optional(),
    ],
};

const STRINGS: Table = Table {
    keys: &[
        number(&strings::NOON),
        number(&strings::NOON_WIND),
        number(&strings::USEFUL_SPEED),
    ],
};

const FEEDER: Table = Table {
    keys: &[
        named("name of the inverter, needed where there are several").optional(),
        path("file", "inverter file"),
        number(&inverter::AC_CABLE_LOSS),
        number(&inverter::RECONNECTION),
    ],
};

const DRIVE_IN_PLANT: Table = Table {
    keys: &[path("file", "drive file")],
};

const PUMP_SET: Table = Table {
    keys: &[
        path("file", "pump file"),
        path("motor", "motor file"),
        number(&pump_set::MOTOR_CABLE_LOSS),
        number(&pump_set::WANTED).optional(),
    ],
};

const NAMED_SET: Table = Table {
    keys: &[
        named("name of the pump set"),
        path("file", "pump file"),
        path("motor", "motor file"),
        path("drive", "drive file").optional(),
        number(&pump_set::MOTOR_CABLE_LOSS),
        number(&pump_set::WANTED).optional(),
        section("well", &WELL),
        sections("pipe", &PIPE),
        section("outlet", &OUTLET),
    ],
};

const WELL: Table = Table {
    keys: &[
        monthly(&well::STATIC_LEVEL),
        number(&well::AQUIFER_LOSS),
        number(&well::WELL_LOSS),
        number(&well::INTAKE_DEPTH).optional(),
        number(&well::INTAKE_MARGIN),
        number(&well::WATER_TEMPERATURE),
    ],
};

const PIPE: Table = Table {
    keys: &[
        named("name of the pipe"),
        number(&pipe::BORE),
        number(&pipe::LENGTH),
        number(&pipe::ROUGHNESS),
        number(&pipe::FITTINGS),
    ],
};

const OUTLET: Table = Table {
    keys: &[number(&outlet::LIFT), number(&outlet::PRESSURE)],
};

const TANK: Table = Table {
    keys: &[number(&tank::CAPACITY), number(&tank::RESTART), number(&tank::LOW_MARK)],
};

const DEMAND: Table = Table {
    keys: &[
        monthly(&demand::DAILY),
        numbers(&demand::HOUR_SHARE, Some(24)).optional(),
    ],
};

const PUMPING: Table = Table {
    keys: &[
        numbers(&pumping::MAINS_HOURS, Some(2)).optional(),
        numbers(&pumping::GRID_ONLY_HOURS, Some(2)).optional(),
        choice(
            "sun_first",
            "who gets the array's energy on the bus first",
            &["pump", "loads"],
        )
        .optional(),
    ],
};

const GRID: Table = Table {
    keys: &[
        path("outages", "list of outages").optional(),
        choice("export", "export of surplus energy", &["none", "unpaid", "paid"]),
        number(&grid::EXPORT_CREDIT).optional(),
        number(&grid::EXPORT_LIMIT).optional(),
        section("line", &LINE).optional(),
        section("timetable", &TIMETABLE).optional(),
        section("random", &RANDOM).optional(),
        section("voltage", &VOLTAGE).optional(),
    ],
};

const LINE: Table = Table {
    keys: &[
        number(&line::RESISTANCE),
        number(&line::LENGTH),
        number(&line::NOMINAL),
        number(&line::NO_LOAD),
        number(&line::GREATEST),
    ],
};

const GRID_INPUT: Table = Table {
    keys: &[
        choice("kind", "how mains helps on the drives", &["switch", "blend"]),
        numbers(&grid_input::HOURS, Some(2)).optional(),
        numbers(&grid_input::WANTED_SPEED, Some(24)).optional(),
        number(&grid_input::TAKES_OVER),
        number(&grid_input::LINE_VOLTAGE),
    ],
};

const BATTERY_USE: Table = Table {
    keys: &[
        path("file", "battery file"),
        choice(
            "rule",
            "when the battery gives while the grid is there",
            &["self-consumption", "reserve"],
        ),
        number(&battery_use::RESERVE),
        number(&battery_use::GRID_CHARGES).optional(),
        number(&battery_use::RESTART),
    ],
};

const GENERATOR_USE: Table = Table {
    keys: &[
        path("file", "generator file"),
        Key::new(
            "beside",
            "arrangements beside which the generating set gets a row",
            What::Choices(WIRINGS),
        )
        .optional(),
        choice("start", "how the generating set is started", &["automatic", "by-hand"]),
        number(&generator_use::START_DELAY),
        numbers(&generator_use::ATTENDED_HOURS, Some(2)).optional(),
        choice(
            "loads",
            "loads that the generating set feeds",
            &["none", "backed-up", "all"],
        ),
        choice(
            "pumps_when",
            "when the generating set pumps",
            &["tank-is-low", "water-is-wanted"],
        ),
        number(&generator_use::FUEL_PRICE),
        number(&generator_use::FUEL_ESCALATION),
        number(&generator_use::UPKEEP),
    ],
};

const NIGHT_TANK: Table = Table {
    keys: &[
        number(&night_tank::CAPACITY),
        numbers(&night_tank::HOURS, Some(2)),
        Key::new(
            "beside",
            "arrangements beside which the bigger tank gets a row",
            What::Choices(WIRINGS),
        ),
    ],
};

const TIMETABLE: Table = Table {
    keys: &[
        path("file", "timetable of outages"),
        text("area_block", "block of the timetable"),
        number(&timetable::STAGE).optional(),
        path("stages", "list of the stages in force").optional(),
    ],
};

const RANDOM: Table = Table {
    keys: &[
        number(&random::SEED),
        number(&random::MEAN_OUTAGE),
        number(&random::SHARE).optional(),
        number(&random::MEAN_UP).optional(),
        numbers(&random::HOUR_WEIGHT, Some(24)).optional(),
        numbers(&random::MONTH_WEIGHT, Some(12)).optional(),
    ],
};

const VOLTAGE: Table = Table {
    keys: &[
        path("file", "voltage of the grid"),
        number(&voltage::LEAST),
        number(&voltage::GREATEST),
        number(&voltage::NOMINAL).optional(),
    ],
};

const LOAD: Table = Table {
    keys: &[
        named("name of the load"),
        path("file", "table of the load").optional(),
        path("meter", "meter readings of the load").optional(),
        choice(
            "stamp",
            "end of the interval that a reading is stamped with",
            &["begin", "end"],
        )
        .optional(),
        Key::new(
            "backed_up",
            "whether an island or a generator feeds the load too",
            What::Flag,
        )
        .optional(),
    ],
};

const TARIFF: Table = Table {
    keys: &[
        text("currency", "currency"),
        number(&grid::FIXED),
        sections("season", &SEASON),
    ],
};

const SEASON: Table = Table {
    keys: &[
        named("name of the season"),
        numbers(&grid::MONTH, None),
        sections("prices", &PRICE),
    ],
};

const PRICE: Table = Table {
    keys: &[
        number(&grid::FROM_HOUR),
        number(&grid::TO_HOUR),
        number(&grid::PRICE),
        number(&grid::HOUR_CREDIT).optional(),
    ],
};

const CHANGEOVER: Table = Table {
    keys: &[
        number(&changeover::TO_DRIVE),
        number(&changeover::GRID_STABLE),
        number(&changeover::TO_MAINS),
    ],
};

const MONEY: Table = Table {
    keys: &[
        text("currency", "currency, where there is no [tariff]").optional(),
        number(&money::YEARS),
        number(&money::DISCOUNT),
        number(&money::ESCALATION),
        number(&money::INFLATION),
        sections("capital", &CAPITAL).optional(),
        sections("upkeep", &UPKEEP).optional(),
        sections("replacement", &REPLACEMENT).optional(),
    ],
};

const CAPITAL: Table = Table {
    keys: &cost_line(&money::COST),
};

const UPKEEP: Table = Table {
    keys: &cost_line(&money::COST_PER_YEAR),
};

const REPLACEMENT: Table = Table { keys: &replacement() };

const fn replacement() -> [Key; 4] {
    let [item, cost, bearers] = cost_line(&money::COST);
    [item, cost, number(&money::EVERY_YEARS), bearers]
}

const fn cost_line(cost: &'static Field) -> [Key; 3] {
    [
        Key::new("item", "what is paid for", What::Name),
        number(cost),
        Key::new(
            "arrangements",
            "arrangements that bear the cost",
            What::Choices(BEARERS),
        ),
    ]
}
