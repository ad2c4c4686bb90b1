//! `[grid]`, `[[load]]` and `[tariff]`.

use daylift_units::fields::{grid, line, random, timetable, voltage};

use super::keys::{
    choice, count, flag, frame, group, named, number, numbers, numbers_of, path, record, section, sections, small, text,
};
use super::words::words;
use crate::read::{Group, List, Part};
use daylift_tables::meter::Stamped;

words! {
    /// What happens to surplus energy.
    ExportKind {
        /// Nothing leaves the farm.
        "none" = Forbidden,
        /// It may leave, for nothing.
        "unpaid" = Unpaid,
        /// It may leave, at a credit.
        "paid" = Paid,
    }
}

frame! {
    /// `[grid]`: the grid: when it is down, and what may be exported. Only for a farm with a grid.
    GridKeys {
        outages: Option<String> = path("outages", "outage list").optional();
        timetable: Part<TimetableKeys> = section("timetable").optional();
        random: Part<RandomKeys> = section("random").optional();
        voltage: Part<VoltageKeys> = section("voltage").optional();
        line: Part<LineKeys> = section("line").optional();
        export: Group<ExportKeys> = group();
    }

    /// `[grid.timetable]`: outages by a rotating timetable, for the block of the farm's area.
    TimetableKeys {
        file: String = path("file", "outage timetable");
        area_block: String = text("area_block", "the farm's block in the timetable", "a text such as \"7\"");
        stages: Group<StageKeys> = group();
    }

    /// `[grid.voltage]`: voltage readings of the grid. While the voltage is outside the usable range, the grid counts as down.
    VoltageKeys {
        window: Group<WindowKeys> = group();
        readings: Group<ReadingKeys> = group();
    }

    /// `[[load]]`: a load of the farm on the same meter as the pump.
    LoadKeys {
        name: String = named("name of the load");
        backed_up: bool = flag(
            "backed_up",
            "whether the load is backed up: in an outage a battery, or a generator that feeds backed-up loads, supplies it",
        );
        source: Group<LoadSourceKeys> = group();
    }

    /// `[tariff]`: the prices of energy from the grid. Only for a farm with a grid.
    TariffKeys {
        terms: Group<TariffTermKeys> = group();
        season: List<SeasonKeys> = sections("season", "season of the tariff");
    }

    /// `[[tariff.season]]`: months with the same prices; the seasons together cover the year.
    SeasonKeys {
        season: Group<MonthKeys> = group();
        prices: List<PriceKeys> = sections("prices", "prices of the season");
    }
}

record! {
    /// What may be exported, and for what credit.
    ExportKeys {
        kind: ExportKind = choice("export", "export of surplus energy");
        limit_w: Option<f64> = number(&grid::EXPORT_LIMIT).optional();
        credit_per_j: Option<f64> = number(&grid::EXPORT_CREDIT).optional();
    }

    /// Active stages of the timetable: one for the whole year, or a list.
    StageKeys {
        stage: Option<u8> = small(&timetable::STAGE).optional();
        stages: Option<String> = path("stages", "list of active stages").optional();
    }

    /// `[grid.random]`: random outages, generated from a seed. Give the share of the time or the mean time
    /// between two outages, not both.
    RandomKeys {
        seed: u32 = count(&random::SEED);
        mean_outage_s: f64 = number(&random::MEAN_OUTAGE);
        share: Option<f64> = number(&random::SHARE).optional();
        mean_up_s: Option<f64> = number(&random::MEAN_UP).optional();
        hour_weight: Option<[f64; 24]> = numbers_of(&random::HOUR_WEIGHT).optional();
        month_weight: Option<[f64; 12]> = numbers_of(&random::MONTH_WEIGHT).optional();
    }

    /// Range of usable voltage.
    WindowKeys {
        least_pu: f64 = number(&voltage::LEAST);
        greatest_pu: f64 = number(&voltage::GREATEST);
    }

    /// Voltage readings.
    ReadingKeys {
        file: String = path("file", "voltage readings");
        nominal_v: Option<f64> = number(&voltage::NOMINAL).optional();
    }

    /// `[grid.line]`: a weak line on which the export of the farm raises the voltage.
    LineKeys {
        resistance_ohm_per_m: f64 = number(&line::RESISTANCE);
        length_m: f64 = number(&line::LENGTH);
        nominal_v: f64 = number(&line::NOMINAL);
        no_load_voltage: f64 = number(&line::NO_LOAD);
        greatest_voltage: f64 = number(&line::GREATEST);
    }

    /// Where a load's power comes from.
    LoadSourceKeys {
        file: Option<String> = path("file", "load table (12 months × 24 hours)").optional();
        meter: Option<String> = path("meter", "meter readings of the load").optional();
        stamp: Option<Stamped> =
            choice::<Stamped>("stamp", "whether a reading's time is the start (the default) or the end of its interval").optional();
    }

    /// Currency and fixed charge.
    TariffTermKeys {
        currency: String = text("currency", "currency", "a text such as \"USD\"");
        fixed_per_month: f64 = number(&grid::FIXED);
    }

    /// Name and months of a season.
    MonthKeys {
        name: String = named("name of the season");
        months: Vec<u8> = numbers(&grid::MONTH);
    }

    /// A price of a season.
    PriceKeys {
        from_h: u8 = small(&grid::FROM_HOUR);
        to_h: u8 = small(&grid::TO_HOUR);
        per_j: f64 = number(&grid::PRICE);
        credit_per_j: Option<f64> = number(&grid::HOUR_CREDIT).optional();
    }
}
