//! The comparison as a table, a column for each arrangement, and as bars.

use daylift_present::flows::{self, Part};
use daylift_present::number::grouped;
use daylift_present::service::MARK;
use daylift_present::table::{Cell, Line, Value, with_unit};
use daylift_present::{compare, prices, say};
use daylift_study::{ComparedRow, Comparison};
use daylift_supply::Flow;

use super::{bands, caution, page, stack, strings_tables, table};

/// The comparison as tables, section by section, with what marked figures lack below them, and with what `between` has
/// before its last words. `plant` is the plant as typed in the call. Rows that do not fit on the page side by side go to
/// further tables, each with the reference as its first column.
pub(crate) fn text(full: &Comparison, plant: &str, between: &str, width: usize) -> String {
    let tables = bands::side_by_side(full, width, one_table);
    let notes: String = compare::notes(full).iter().map(|note| page::hang(note, width, 2) + "\n").collect();
    let notes = if notes.is_empty() { notes } else { format!("\n{notes}") };
    let missing = prices::missing(full.prices).map_or_else(String::new, |missing| {
        let text = format!("  {}: {missing}", say!("section-money"));
        format!("\n{}\n", page::hang(&text, width, 4))
    });
    let bars = bars(full, width);
    format!(
        "{}\n{tables}{missing}{notes}{bars}{between}\n{}",
        head(full, plant, width),
        caution(width)
    )
}

/// All sections of a comparison in one table.
fn one_table(full: &Comparison) -> String {
    let ids = full.rows.iter().map(|one| table::broken(one.row.id.id()));
    let header: Vec<String> = std::iter::once(String::new()).chain(ids).collect();
    let mut table = table::new(&header);
    for section in compare::sections(full) {
        if !table.is_empty() {
            table.add_row([""]);
        }
        table.add_row([with_unit(&section.title, &section.unit)]);
        for line in &section.lines {
            table.add_row(cells(line));
        }
    }
    table::text(&table)
}

fn cells(line: &Line) -> Vec<String> {
    let text = |cell: &Cell| match &cell.value {
        Value::Words(words) if !cell.is_marked => table::wrapped(words),
        value => value.text() + if cell.is_marked { MARK } else { "" },
    };
    let label = format!("  {}", with_unit(&line.label, &line.unit));
    std::iter::once(label).chain(line.cells.iter().map(text)).collect()
}

/// Where sun and water went, and what the pump ran on, a bar for each arrangement.
fn bars(full: &Comparison, width: usize) -> String {
    let of = |parts: &dyn Fn(&ComparedRow) -> Option<Vec<Part>>| -> Vec<(&str, Vec<Part>)> {
        full.rows.iter().filter_map(|one| Some((one.row.id.id(), parts(one)?))).collect()
    };
    let sun = of(&|one| {
        let energy = &one.row.array_kwh;
        (energy.of(Flow::Available) > 0.0).then(|| flows::sun_in_short(energy))
    });
    let pump = of(&|one| Some(flows::pump(&one.row.pump_kwh)));
    let water = of(&|one| Some(flows::water(&one.row.water_m3, &one.detail.water_secured)));
    stack::text(&say!("flows-sun"), &sun, width)
        + &stack::text(&say!("flows-pump"), &pump, width)
        + &stack::text(&say!("flows-water"), &water, width)
}

fn head(full: &Comparison, plant: &str, width: usize) -> String {
    let weather = &full.weather;
    let step = (full.step_s / 60).to_string();
    let head = say!("compare-head", plant = &full.plant, rows = full.rows.len(), step = step);
    let flat = grouped(weather.ghi_kwh_m2, 0);
    let sun = if weather.plane_kwh_m2 > 0.0 {
        say!(
            "compare-sun.plane",
            flat = flat,
            plane = grouped(weather.plane_kwh_m2, 0)
        )
    } else {
        say!("compare-sun", flat = flat)
    };
    let strings = strings_tables::verdict_in_short(full.can_be_built.as_ref(), plant, width);
    format!(
        "{head}\n{strings}{}\n{sun}\n",
        say!("weather", source = &weather.source)
    )
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use daylift_plant::Arrangement;
    use daylift_study::Memory;
    use daylift_study::compare::{Extras, compare_in_full};
    use daylift_units::Step;

    #[test]
    fn seven_arrangements_fit_on_a_wide_page() {
        let example = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/mulenga-ridge");
        let read = daylift_plant_file::read_plant(&example).unwrap();
        let mut full = compare_in_full(
            &read.plant,
            Step::Hour,
            &[],
            Extras::NONE,
            &Memory::none(),
            &mut |_, _| (),
        );
        let names = [
            "grid-only",
            "grid-only+generator",
            "solar-drive",
            "solar-drive-with-grid",
            "grid-tied",
            "dual-mode",
            "battery-hybrid",
        ];
        let rows = full.rows.clone();
        full.rows = names.iter().zip(rows.iter().cycle()).map(|(_, one)| one.clone()).collect();
        for (one, name) in full.rows.iter_mut().zip(names) {
            one.row.id = Arrangement::from_id(name).unwrap();
        }
        let months = crate::print::month_table::text(&full, 120);
        let text = anstream::adapter::strip_str(&super::text(&full, "mulenga-ridge", &months, 120)).to_string();
        for line in text.lines() {
            assert!(line.chars().count() <= 120, "{line}");
        }
        assert!(text.contains("-with-grid") && text.contains("+generator"));
    }
}
