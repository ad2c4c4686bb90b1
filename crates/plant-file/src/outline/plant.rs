//! The plant file.

use daylift_grid::BatteryRule;
use daylift_lift::Filter;
use daylift_sky::{RowShade, SkyModel};
use daylift_units::fields::{
    array, battery_use, changeover, demand, file, generator_use, grid_input, inverter, night_tank, outlet, pipe,
    pump_set, pumping, row_rule, site, strings, tank, weather, well,
};
use jiff::civil::Date;

use super::equipment::{BatteryFile, DriveFile, GeneratorFile, InverterFile, ModuleFile, MotorFile, PumpFile};
use super::grid::{GridKeys, LoadKeys, TariffKeys};
use super::keys::{
    Typed, choice, choice_where_used, choices, count, day, equipment, flag, frame, group, hourly, keys, label, monthly,
    named, number, numbers, numbers_of, one_or_many, record, section, sections, text, windows,
};
use super::listed::Listed;
use super::money::MoneyKeys;
use super::words::words;
use crate::provenance::Origin;
use crate::read::{ByHour, ByMonth, Equipment, Group, List, Part, Texts, Used, Words};
use daylift_plant::{Arrangement, DayHours, LoadsFed, RuleSearch, Wiring};
use daylift_tables::weather::StampAt;

frame! {
    /// The plant file.
    PlantKeys {
        _format: u32 = count(&file::FORMAT).unlisted();
        name: String = named("name of the plant");
        reference: Arrangement = choice("reference", "today's way: the arrangement that money is compared with");
        origin: List<OriginKeys> = sections("origin", "where values came from").optional();
        weather: Part<WeatherKeys> = section("weather");
        site: Part<SiteKeys> = section("site");
        inverter: List<FeederKeys> = one_or_many("inverter", "inverter").optional();
        drive: Part<DriveKeys> = section("drive").optional().unless("pump_set");
        well: Part<WellKeys> = section("well").optional().unless("pump_set");
        pipe: List<PipeKeys> = sections("pipe", "pipe").optional().unless("pump_set");
        outlet: Part<OutletKeys> = section("outlet").optional().unless("pump_set");
        pump: Part<PumpKeys> = section("pump").optional().unless("pump_set");
        pump_set: List<NamedSetKeys> = sections("pump_set", "pump set").optional();
        array: Part<ArrayKeys> = section("array").optional();
        tank: Part<TankKeys> = section("tank");
        demand: Part<DemandKeys> = section("demand");
        pumping: Part<PumpingKeys> = section("pumping").optional();
        grid_input: Part<GridInputKeys> = section("grid_input").optional();
        battery: Part<BatteryUseKeys> = section("battery").optional();
        generator: Part<GeneratorUseKeys> = section("generator").optional();
        night_tank: Part<NightTankKeys> = section("night_tank").optional();
        money: Part<MoneyKeys> = section("money").optional();
        tariff: Part<TariffKeys> = section("tariff").optional();
        grid: Part<GridKeys> = section("grid").optional();
        load: List<LoadKeys> = sections("load", "load").optional();
        changeover: Part<ChangeoverKeys> = section("changeover").optional();
        strings: Part<StringRuleKeys> = section("strings").optional();
    }

    /// `[[origin]]`: where values came from. An entry for a key overrides one for its section, and an entry
    /// for a section overrides one for "*".
    OriginKeys {
        of: Texts = OriginKeys::OF;
        is: Origin = choice::<Origin>("is", "where these values came from").unlisted();
        date: Option<Date> = day("date", "date on which they were measured, copied or calculated").optional();
        note: Option<String> = label("note", "a note: how they were measured, copied or calculated").optional();
    }

    /// `[weather]`: the weather of the year: a file, or a synthetic year from coordinates and monthly means.
    WeatherKeys {
        synthetic: bool = flag("synthetic", "whether a synthetic year is made from twelve monthly means");
        sky_model: SkyModel = choice("sky_model", "model of diffuse sky irradiance")
            .or((SkyModel::HayDavies, "hay-davies"), "Hay & Davies (1980); usual practice");
        of_file: Group<WeatherFileKeys> = group();
        made: Group<MadeYearKeys> = group();
        clouds: Group<CloudKeys> = group();
    }

    /// `[site]`: the location of the plant, and its time zone.
    SiteKeys {
        at: Group<CoordinateKeys> = group();
        records: Group<RecordKeys> = group();
        horizon_deg: Option<Vec<f64>> = numbers(&site::HORIZON).optional();
        year: u32 = count(&site::YEAR);
        time_zone: String = text(
            "time_zone",
            "time zone of the site",
            "a name of the IANA time zone database such as \"Africa/Lusaka\"",
        );
    }

    /// `[inverter]` or `[[inverter]]`: the grid-tied inverter, or each of several inverters.
    FeederKeys {
        name: Option<String> = FeederKeys::NAME.optional();
        keys: Group<FeedingKeys> = group();
        file: Equipment<InverterFile> = equipment("file", "inverter file");
    }

    /// `[drive]`: the solar drive of the pump.
    DriveKeys {
        file: Equipment<DriveFile> = equipment("file", "drive file");
    }

    /// `[pump]`: the pump with its motor, and how they are installed.
    PumpKeys {
        keys: Group<SetKeys> = group();
        file: Equipment<PumpFile> = equipment("file", "pump file");
        motor: Equipment<MotorFile> = equipment("motor", "motor file");
    }

    /// `[[pump_set]]`: a pump set (pump, motor and drive), if there are several; all of them fill one tank.
    NamedSetKeys {
        name: String = named("name of the pump set");
        drive: Equipment<DriveFile> = equipment("drive", "drive file").optional();
        well: Part<WellKeys> = section("well");
        pipe: List<PipeKeys> = sections("pipe", "pipe");
        outlet: Part<OutletKeys> = section("outlet");
        keys: Group<SetKeys> = group();
        file: Equipment<PumpFile> = equipment("file", "pump file");
        motor: Equipment<MotorFile> = equipment("motor", "motor file");
    }

    /// `[array]`: the PV array, its strings and its losses.
    ArrayKeys {
        module: Equipment<ModuleFile> = equipment("module", "module file");
        losses: Group<ArrayLossKeys> = group();
        cell: Group<CellKeys> = group();
        dc_cable_loss: f64 = number(&array::DC_CABLE_LOSS);
        albedo: f64 = number(&array::ALBEDO);
        mount: Group<MountKeys> = group();
        strings: Group<OwnStringKeys> = group();
        plane: List<PlaneKeys> = sections("plane", "plane of the array").optional();
        group: List<GroupKeys> = sections("group", "string group").optional();
    }

    /// `[[array.plane]]`: a plane of modules, if the array has several.
    PlaneKeys {
        name: String = named("name of the plane");
        mount: Group<MountKeys> = group();
    }

    /// `[[array.group]]`: a group of equal strings, if the array has several. All groups on one drive need the same
    /// `modules_per_string`, because they share one voltage.
    GroupKeys {
        name: String = named("name of the string group");
        plane: String = text("plane", "plane of the group", "a name");
        inverter: Option<String> = text("inverter", "inverter of the group", "the name of an inverter; a single [inverter] without a name is \"inverter\"").optional();
        drive: Option<String> = text("drive", "pump set whose drive the group feeds", "the name of a pump set; the single [pump] is \"pump\"").optional();
        strings: Group<StringKeys> = group();
    }

    /// `[pumping]`: when the pumps may run on mains or on any other bus, and what gets the array's energy first.
    PumpingKeys {
        rule: Group<PumpingRuleKeys> = group();
        restart: Group<RestartKeys> = group();
        row: List<RowRuleKeys> = sections("row", "rule of pumping of some rows").optional();
    }

    /// `[battery]`: a battery with its inverter, and how it is used.
    BatteryUseKeys {
        file: Equipment<BatteryFile> = equipment("file", "battery file");
        uses: Group<BatteryKeys> = group();
    }

    /// `[generator]`: a generator, and how it is used.
    GeneratorUseKeys {
        file: Equipment<GeneratorFile> = equipment("file", "generator file");
        uses: Group<GeneratorKeys> = group();
    }
}

words! {
    /// How the modules of a plane are mounted.
    MountingKind {
        /// They stand still.
        "fixed" = Fixed,
        /// They follow the sun.
        "single-axis" = SingleAxis,
    }

    /// What cell temperature is calculated from.
    CellModelKind {
        /// Air, sun and wind.
        "faiman" = Faiman,
        /// Air and sun.
        "noct" = Noct,
    }

    /// How a mains starter closes again after a loss of power.
    RestartWord {
        /// With the power.
        "automatic" = Automatic,
        /// Somebody presses the button.
        "by-hand" = ByHand,
    }

    /// Which use on the bus gets the array's energy first.
    SunFirst {
        /// The pumps.
        "pump" = Pump,
        /// The loads.
        "loads" = Loads,
    }

    /// How mains helps on the drives.
    InputKindWord {
        /// The drive is on the array or on mains.
        "switch" = Switch,
        /// Both feed it.
        "blend" = Blend,
    }

    /// How a generator is started.
    Start {
        /// By itself.
        "automatic" = Automatic,
        /// By somebody who is there.
        "by-hand" = ByHand,
    }

    /// When a generator pumps.
    PumpsWhen {
        /// While the tank is below its low mark.
        "tank-is-low" = TankIsLow,
        /// While water is wanted.
        "water-is-wanted" = WaterIsWanted,
    }
}

impl OriginKeys {
    /// What an entry marks.
    pub(crate) const OF: Typed<Texts> = keys(
        "of",
        "values that this entry marks",
        "keys with their section such as \"well.static_level_m\", whole sections such as \"well\", or \"*\"",
    );
}

record! {
    /// A weather file and its clock.
    WeatherFileKeys {
        file: Option<String> = WeatherFileKeys::FILE.optional();
        stamp: Used<StampAt> = choice_where_used(
            "stamp",
            "whether a row's time is the start, middle or end of its interval",
            (StampAt::Start, "start"),
            "usual practice for logged data; an EPW file's own default is \"end\"",
        );
        utc_offset_h: Option<f64> = number(&weather::UTC_OFFSET).optional();
    }

    /// Inputs of a synthetic year.
    MadeYearKeys {
        seed: Used<u32> = count(&weather::SEED).where_used();
        daily_ghi_w_m2: Option<[f64; 12]> = numbers_of(&weather::DAILY_GHI).optional();
        correction: Option<f64> = number(&weather::CORRECTION)
            .optional()
            .decided("1% below 30° of latitude, 11% from there on", MadeYearKeys::CORRECTION_SOURCE);
        air_mean_c: Option<ByMonth> = monthly(&weather::AIR_MEAN).optional();
        air_low_c: Option<ByMonth> = monthly(&weather::AIR_LOW).optional();
        air_high_c: Option<ByMonth> = monthly(&weather::AIR_HIGH).optional();
        wind_m_s: Used<ByMonth> = monthly(&weather::WIND).where_used();
    }

    /// Clouds within the hour.
    CloudKeys {
        minute_clouds: Option<bool> = flag("minute_clouds", "whether clouds vary within the hour")
            .optional()
            .decided("true where the weather is coarser than a minute", CloudKeys::SOURCE);
        cloud_seed: Used<u32> = count(&weather::CLOUD_SEED).where_used();
    }

    /// Coordinates.
    CoordinateKeys {
        latitude_deg: f64 = number(&site::LATITUDE);
        longitude_deg: f64 = number(&site::LONGITUDE);
        altitude_m: f64 = number(&site::ALTITUDE);
    }

    /// Lowest and highest air temperature on record.
    RecordKeys {
        low_c: Option<f64> = number(&site::RECORD_LOW).optional();
        high_c: Option<f64> = number(&site::RECORD_HIGH).optional();
    }

    /// How an inverter feeds in.
    FeedingKeys {
        ac_cable_loss: f64 = number(&inverter::AC_CABLE_LOSS);
        reconnection_s: f64 = number(&inverter::RECONNECTION);
    }

    /// How a pump set is installed.
    SetKeys {
        motor_cable_loss: f64 = number(&pump_set::MOTOR_CABLE_LOSS);
        wanted_frequency_hz: Option<f64> = number(&pump_set::WANTED).optional();
        filter: Filter = choice::<Filter>("filter", "filter between drive and motor").or(SetKeys::FILTER, SetKeys::FILTER_SOURCE);
        filter_loss: Option<f64> = number(&pump_set::FILTER_LOSS).optional().listed_as(
            Listed::Rule("0.3 for a dv/dt filter, 1 for a sine filter"),
            "usual practice, no source",
        );
        filter_drop: Option<f64> = number(&pump_set::FILTER_DROP).optional().listed_as(
            Listed::Rule("1.5 for a dv/dt filter, 5 for a sine filter"),
            "usual practice, no source",
        );
        harmonic_loss: Option<f64> = number(&pump_set::HARMONIC_LOSS).optional().listed_as(
            Listed::Rule("3 with a sine filter, else 15 for motors up to 90 kW, 25 above"),
            "IEC 60034-30-2, from memory; 3: usual practice",
        );
        least_flow: f64 = number(&pump_set::LEAST_FLOW);
    }

    /// `[well]`: the borehole, well, river or dam.
    WellKeys {
        static_level_m: ByMonth = monthly(&well::STATIC_LEVEL);
        aquifer_loss_s_m2: f64 = number(&well::AQUIFER_LOSS);
        well_loss_s2_m5: f64 = number(&well::WELL_LOSS);
        intake_depth_m: Option<f64> = number(&well::INTAKE_DEPTH).optional();
        intake_margin_m: f64 = number(&well::INTAKE_MARGIN);
        water_temperature_c: f64 = number(&well::WATER_TEMPERATURE);
    }

    /// `[[pipe]]`: one length of pipe, in series with the others.
    PipeKeys {
        name: String = named("name of the pipe");
        bore_m: f64 = number(&pipe::BORE);
        length_m: f64 = number(&pipe::LENGTH);
        roughness_m: f64 = number(&pipe::ROUGHNESS);
        fittings_k: f64 = number(&pipe::FITTINGS);
    }

    /// `[outlet]`: where the water leaves the pipe.
    OutletKeys {
        lift_m: f64 = number(&outlet::LIFT);
        pressure_pa: f64 = number(&outlet::PRESSURE);
    }

    /// Losses of the array before its cables.
    ArrayLossKeys {
        soiling: ByMonth = monthly(&array::SOILING);
        mismatch: f64 = number(&array::MISMATCH);
        light_induced: f64 = number(&array::LIGHT_INDUCED);
        unavailability: f64 = number(&array::UNAVAILABILITY);
        yearly_degradation: f64 = number(&array::DEGRADATION);
        age_years: f64 = number(&array::AGE);
    }

    /// Cell temperature.
    CellKeys {
        model: CellModelKind = choice("cell_temperature", "model of cell temperature")
            .or((CellModelKind::Faiman, "faiman"), "usual practice: it includes the wind");
        noct_c: Used<f64> = number(&array::NOCT).where_used();
        u0_w_m2_k: Used<f64> = number(&array::U0).where_used();
        u1_w_s_m3_k: Used<f64> = number(&array::U1).where_used();
    }

    /// Mounting and direction of the modules of a plane.
    MountKeys {
        mounting: Used<MountingKind> = choice_where_used(
            "mounting",
            "how the modules are mounted",
            (MountingKind::Fixed, "fixed"),
            "usual practice on farms",
        );
        row_pitch_m: Option<f64> = number(&array::ROW_PITCH).optional();
        row_width_m: Option<f64> = number(&array::ROW_WIDTH).optional();
        row_shade: Used<RowShade> = choice_where_used(
            "row_shade",
            "effect of shade at the edge of a row on its strings",
            (RowShade::InProportion, "in-proportion"),
            "usual practice: the smallest loss; \"whole\" is the largest",
        );
        tilt_deg: Option<f64> = number(&array::TILT).optional();
        azimuth_deg: Option<f64> = number(&array::AZIMUTH).optional();
        axis_azimuth_deg: Used<f64> = number(&array::AXIS_AZIMUTH).where_used();
        axis_tilt_deg: Used<f64> = number(&array::AXIS_TILT).where_used();
        greatest_rotation_deg: Used<f64> = number(&array::GREATEST_ROTATION).where_used();
        backtracking: Option<bool> =
            flag("backtracking", "whether the tracker backtracks to avoid row shading").optional();
    }

    /// Strings in `[array]` itself, if there are no groups.
    OwnStringKeys {
        modules_per_string: Option<u32> = count(&array::MODULES_PER_STRING).optional();
        strings: Option<u32> = count(&array::STRINGS).optional();
        strings_per_input: Option<u32> = count(&array::STRINGS_PER_INPUT).optional();
    }

    /// The strings of a group.
    StringKeys {
        modules_per_string: u32 = count(&array::MODULES_PER_STRING);
        strings: u32 = count(&array::STRINGS);
        strings_per_input: Option<u32> = count(&array::STRINGS_PER_INPUT).optional();
    }

    /// `[tank]`: the tank that all pumps fill.
    TankKeys {
        capacity_m3: f64 = number(&tank::CAPACITY);
        restart_level: f64 = number(&tank::RESTART);
        low_mark: Used<f64> = number(&tank::LOW_MARK).where_used();
    }

    /// `[demand]`: the water demand.
    DemandKeys {
        mean_flow_m3_s: ByMonth = monthly(&demand::DAILY);
        hour_share: Option<[f64; 24]> =
            numbers_of(&demand::HOUR_SHARE).optional().listed_as(Listed::Rule("even"), "no hours given");
    }

    /// The rule of every row.
    PumpingRuleKeys {
        mains_hours: Option<DayHours> = windows(&pumping::MAINS_HOURS)
            .optional()
            .listed_as(PumpingRuleKeys::MAINS_HOURS_LISTED, PumpingRuleKeys::SOURCE);
        mains_fill: Used<ByHour> = hourly(&pumping::MAINS_FILL).where_used();
        surplus: Option<f64> = number(&pumping::SURPLUS).optional();
        search: RuleSearch = choice::<RuleSearch>("rule", "how the missing parts of a rule are chosen")
            .or(PumpingRuleKeys::SEARCH, PumpingRuleKeys::SEARCH_SOURCE);
        sun_first: Option<SunFirst> =
            choice::<SunFirst>("sun_first", "what gets the array's energy first: pump or loads").optional();
    }

    /// How mains starters close again after a loss of power.
    RestartKeys {
        restart: Option<RestartWord> = choice::<RestartWord>("restart", "how mains starters close again after a loss of power")
            .optional()
            .listed_as(RestartKeys::LISTED, RestartKeys::SOURCE);
        attended_hours: Option<DayHours> = windows(&pumping::RESTART_HOURS).optional();
        delay_s: Used<f64> = number(&pumping::RESTART_DELAY).where_used();
    }

    /// `[[pumping.row]]`: the rule of some arrangements, each named exactly: `grid-only` does not include
    /// `grid-only+generator`. A part that it leaves out is as in `[pumping]`; for the low mark, as in `[tank]`. Its hours go
    /// before `hours` of `[night_tank]` and `[grid_input]`.
    RowRuleKeys {
        rows: Words<Arrangement> = choices("arrangements", "arrangements that the rule holds for, each named exactly");
        mains_hours: Option<DayHours> = windows(&row_rule::MAINS_HOURS).optional();
        mains_fill: Option<ByHour> = hourly(&row_rule::MAINS_FILL).optional();
        low_mark: Option<f64> = number(&row_rule::LOW_MARK).optional();
        surplus: Option<f64> = number(&row_rule::SURPLUS).optional();
    }

    /// `[grid_input]`: mains on the second input of the drives.
    GridInputKeys {
        kind: InputKindWord = choice::<InputKindWord>("kind", "how mains supplies the drives' second input").unlisted();
        hours: Option<DayHours> = windows(&grid_input::HOURS)
            .optional()
            .listed_as(Listed::Rule("as pumping.mains_hours"), "the hours of pumping on mains");
        wanted_speed: Option<[f64; 24]> = numbers_of(&grid_input::WANTED_SPEED)
            .optional()
            .listed_as(Listed::Number(100.0, "%"), "the wanted frequency in every hour");
        takes_over_below: Used<f64> = number(&grid_input::TAKES_OVER).where_used();
        line_voltage_v: Used<f64> = number(&grid_input::LINE_VOLTAGE).where_used();
    }

    /// How the battery is used.
    BatteryKeys {
        rule: BatteryRule = choice("rule", "when the battery discharges while the grid is on");
        reserve: f64 = number(&battery_use::RESERVE);
        grid_charges_to: Option<f64> = number(&battery_use::GRID_CHARGES)
            .optional()
            .listed_as(Listed::Rule("the reserve"), "the grid refills the reserve after an outage");
        restart: f64 = number(&battery_use::RESTART);
    }

    /// How the generator is used.
    GeneratorKeys {
        beside: Option<Words<Wiring>> =
            choices("beside", "arrangements that are also calculated with the generator").optional();
        start: Start = choice("start", "how the generator is started");
        start_delay_s: f64 = number(&generator_use::START_DELAY);
        attended_hours: Option<DayHours> = windows(&generator_use::ATTENDED_HOURS).optional();
        loads: LoadsFed = choice("loads", "loads that the generator feeds");
        pumps_when: PumpsWhen = choice("pumps_when", "when the generator runs the pump");
        sun_share: f64 = number(&generator_use::SUN_SHARE);
        fuel_price_per_m3: f64 = number(&generator_use::FUEL_PRICE);
        fuel_escalation: f64 = number(&generator_use::FUEL_ESCALATION);
        upkeep_per_s: f64 = number(&generator_use::UPKEEP);
    }

    /// `[night_tank]`: a bigger tank that replaces the present one and is filled at other hours.
    NightTankKeys {
        capacity_m3: f64 = number(&night_tank::CAPACITY);
        hours: DayHours = windows(&night_tank::HOURS);
        beside: Words<Wiring> = choices("beside", "arrangements that are also calculated with the bigger tank");
    }

    /// `[changeover]`: the times of a dual-mode plant, which switches the array between inverter and drive.
    ChangeoverKeys {
        to_drive_s: f64 = number(&changeover::TO_DRIVE);
        grid_stable_s: f64 = number(&changeover::GRID_STABLE);
        to_mains_s: f64 = number(&changeover::TO_MAINS);
        rated_cycles: Option<f64> = number(&changeover::RATED_CYCLES).optional();
    }

    /// `[strings]`: the conditions of the string checks.
    StringRuleKeys {
        noon_w_m2: f64 = number(&strings::NOON);
        noon_wind_m_s: f64 = number(&strings::NOON_WIND);
        useful_speed: f64 = number(&strings::USEFUL_SPEED);
    }
}

impl FeederKeys {
    /// The name, which is needed where there are several.
    pub(crate) const NAME: Typed<String> = named("name of the inverter");
}

impl WeatherFileKeys {
    /// The file, which is needed where no year is made.
    pub(crate) const FILE: Typed<String> = text(
        "file",
        "weather file",
        "a path relative to this file; without a weather file, `synthetic = true` makes a year from the coordinates",
    )
    .a_path();
}

/// The world grid's correction where nothing is stated.
impl MadeYearKeys {
    pub(crate) const CORRECTION_SOURCE: &'static str =
        "the world grid's yearly sum against stations at 26°, 36° and 55° north: 1.1, 10.9 and 10.6% too high";
}

/// Clouds where nothing is stated.
impl CloudKeys {
    pub(crate) const SOURCE: &'static str = "a pump on the sun reacts to minutes, which hours do not show";
}

/// Restart where nothing is stated.
impl RestartKeys {
    pub(crate) const LISTED: Listed = Listed::Text("automatic");
    pub(crate) const SOURCE: &'static str = "usual practice for pumps that a float or a timer switches";
}

/// The rule of pumping where nothing is stated.
impl SetKeys {
    /// The filter of a set whose file names none.
    pub(crate) const FILTER: (Filter, &'static str) = (Filter::DvDt, "dv-dt");
    pub(crate) const FILTER_SOURCE: &'static str =
        "usual practice behind a motor cable of some tens of metres, no source";
}

impl PumpingRuleKeys {
    pub(crate) const MAINS_HOURS_LISTED: Listed = Listed::Numbers(&[0.0, 24.0], "h");
    pub(crate) const SOURCE: &'static str = "usual practice: whenever there is power";
    pub(crate) const SEARCH: (RuleSearch, &'static str) = (RuleSearch::Best, "best");
    pub(crate) const SEARCH_SOURCE: &'static str = "arrangements are compared fairly when each has its best rule";
}
