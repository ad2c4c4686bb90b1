//! `daylift check`.

use daylift_present::say;
use daylift_study::strings::{Verdict, Weight, can_be_built};

use super::{as_typed, open, put};
use crate::args::CheckArgs;
use crate::exit::{DONE, Exit, FAULTS};
use crate::print::plant::{Values, summary};
use crate::print::{page, strings_tables};

pub(crate) fn check(args: &CheckArgs) -> Exit {
    let read = match open(&args.plant) {
        Ok(read) => read,
        Err(exit) => return exit,
    };
    let built = can_be_built(&read.plant, &read.origins);
    let strings = built.as_ref().map_or_else(String::new, |(verdict, findings)| {
        let width = page::width();
        let reported: Vec<_> = findings.iter().filter(|finding| finding.weight != Weight::Notes).cloned().collect();
        format!(
            "\n{}\n{}{}",
            say!("check-strings"),
            page::indented(&strings_tables::verdict(verdict, width), 2),
            if reported.is_empty() {
                String::new()
            } else {
                strings_tables::findings(&reported, width)
            }
        )
    });
    let plant = as_typed(&args.plant);
    let values = if args.values {
        Values::All
    } else {
        Values::InShort(&plant)
    };
    let exit = put(&summary(&read, &strings, values));
    match built {
        Some((verdict, _)) if exit == DONE && verdict.verdict == Verdict::Forbidden => FAULTS,
        _ => exit,
    }
}
