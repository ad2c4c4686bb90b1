//! `daylift compare`.

use daylift_present::answers;
use daylift_study::best_rule::FindRules;
use daylift_study::compare::{Extras, WorkingsOf, compare_in_full};
use daylift_study::{Comparison, Memory};

use super::{as_typed, of_other_runs, open, put, to_json, unusable};
use crate::args::CompareArgs;
use crate::exit::Exit;
use crate::files;
use crate::print::warnings::{print_warnings, print_warnings_of_rows};
use crate::print::{changes, compare_tables, month_table, page, pairs_table, working};
use crate::progress::Progress;

pub(crate) fn compare(args: &CompareArgs) -> Exit {
    let read = match open(&args.plant) {
        Ok(read) => read,
        Err(exit) => return exit,
    };
    let full = {
        let mut progress = Progress::new("comparing arrangements");
        let extras = Extras {
            series: args.output.out.is_some(),
            workings_of: if args.output.explain.is_some() {
                WorkingsOf::All
            } else {
                WorkingsOf::None
            },
            rules: FindRules::Search(args.output.rules.into()),
            ..Extras::NONE
        };
        compare_in_full(
            &read.plant,
            args.output.step.into(),
            &read.warnings,
            extras,
            &Memory::none(),
            &mut |done, total| progress.set(done, total),
        )
        .with_origins(&read.plant, &read.origins)
    };
    let mut others = Vec::new();
    if let Some(folder) = &args.output.out {
        others = match files::write_comparison(folder, &full) {
            Ok(others) => others,
            Err(error) => return unusable(&error),
        };
    }
    let exit = match answer(args, &full) {
        Ok(text) => put(&text),
        Err(exit) => return exit,
    };
    print_warnings_of_rows(&full);
    print_warnings(&of_other_runs(&others));
    exit
}

fn answer(args: &CompareArgs, full: &Comparison) -> Result<String, Exit> {
    if let Some(name) = &args.output.explain {
        let texts = working::texts(full.rows.iter().flat_map(|one| &one.detail.workings), name);
        if texts.is_empty() {
            return Err(unusable(&format!(
                "`{name}` applies to no arrangement of this plant; try `--explain all`"
            )));
        }
        return Ok(texts.join("\n"));
    }
    if args.output.json {
        let answer = answers::Comparison::from(full);
        return to_json(&if args.pairs { answer.with_pairs(full) } else { answer });
    }
    let against = args.against.unwrap_or(full.reference);
    let Some(base) = full.rows.iter().position(|one| one.row.id == against) else {
        let there: Vec<&str> = full.rows.iter().map(|one| one.row.id.id()).collect();
        return Err(unusable(&format!(
            "this plant has no arrangement `{against}`; it has {}",
            there.join(", ")
        )));
    };
    let months = if args.months {
        month_table::text(full, page::width())
    } else {
        String::new()
    };
    let pairs = if args.pairs {
        pairs_table::text(full)
    } else {
        String::new()
    };
    // All changes if `--against` names the row, else the greatest ones.
    let most = if args.against.is_some() { usize::MAX } else { 5 };
    let changes = changes::text(full, base, most, page::width());
    let plant = as_typed(&args.plant);
    Ok(compare_tables::text(
        full,
        &plant,
        &(changes + &months + &pairs),
        page::width(),
    ))
}
