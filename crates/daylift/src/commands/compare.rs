//! `daylift compare`.

use daylift_study::compare::compare_in_full;

use super::{open, put, to_json, unusable};
use crate::args::CompareArgs;
use crate::exit::Exit;
use crate::files;
use crate::print::warnings::print_warnings_of_rows;
use crate::print::{compare_tables, working};

pub(crate) fn compare(args: &CompareArgs) -> Exit {
    let read = match open(&args.plant) {
        Ok(read) => read,
        Err(exit) => return exit,
    };
    let full = compare_in_full(
        &read.plant,
        args.output.step.into(),
        &read.warnings,
        args.output.out.is_some(),
    );
    if let Some(folder) = &args.output.out
        && let Err(error) = files::write_comparison(folder, &full)
    {
        return unusable(&error);
    }
    print_warnings_of_rows(&full.answer);
    if let Some(name) = &args.output.explain {
        let texts = working::texts(full.rows.iter().flat_map(|r| &r.workings), name);
        if texts.is_empty() {
            return unusable(&format!("`{name}` applies to none of the arrangements on this plant"));
        }
        return put(&texts.join("\n"));
    }
    if args.output.json {
        return match to_json(&full.answer) {
            Ok(text) => put(&text),
            Err(exit) => exit,
        };
    }
    put(&compare_tables::text(&full))
}
