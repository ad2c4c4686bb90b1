//! Whether the cost lines fit the plant.

use daylift_plant::{Arrangement, CostLine, Per, Plant};
use daylift_units::field::number;
use daylift_units::{Id, Warning};

/// The warnings about cost lines that cost nothing.
pub(super) fn warnings(plant: &Plant) -> Vec<Warning> {
    let rows = plant.arrangements();
    let lines = plant.costs.iter().flat_map(daylift_plant::Costs::lines);
    let texts = lines.filter_map(|line| without_effect(plant, &rows, line));
    texts.map(|text| Warning::new("money", text)).collect()
}

/// Why nothing is counted for a line in any row; `None` if something is.
fn without_effect(plant: &Plant, rows: &[Arrangement], line: &CostLine) -> Option<String> {
    let has = |row: &Arrangement| plant.quantities(*row).of(line.per);
    let quantities = rows.iter().filter(|row| line.is_cost_of(**row)).map(has);
    let Some(most) = quantities.reduce(f64::max) else {
        return Some(format!(
            "\"{}\" belongs to arrangements that this plant does not have: it is not used",
            line.item
        ));
    };
    if most <= 0.0 {
        return Some(format!(
            "\"{}\" is priced per \"{}\", and no arrangement that it belongs to has any: it costs nothing",
            line.item,
            line.per.id()
        ));
    }
    (line.owned > most).then(|| {
        let of = match line.per {
            Per::One => String::new(),
            per => format!(" (\"{}\")", per.id()),
        };
        format!(
            "the farm owns {} of \"{}\"{of}, but no arrangement that it belongs to has more than {}: it costs nothing",
            number(line.owned),
            line.item,
            number(most)
        )
    })
}
