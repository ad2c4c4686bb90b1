//! `daylift build`.

mod take;

use daylift_study::building::{Building, Verdict, building};

use super::{of_other_runs, open, put, to_json, unusable};
use crate::args::BuildArgs;
use crate::exit::{DONE, Exit, FAULTS};
use crate::files;
use crate::print::warnings::print_warnings;
use crate::print::{build_tables, page};
use crate::progress::Progress;

pub(crate) fn build(args: &BuildArgs) -> Exit {
    let read = match open(&args.plant) {
        Ok(read) => read,
        Err(exit) => return exit,
    };
    let found = {
        let mut progress = Progress::new("running the layouts");
        building(&read.plant, &read.origins, args.step.into(), &mut |done, total| {
            progress.set(done, total);
        })
    };
    let Some(found) = found else {
        return unusable(&format!(
            "{} has no [array]; there are no strings to build",
            read.plant.name
        ));
    };
    if let Some(number) = args.take {
        return match take::take(&read, &found, number, args.of.as_deref()) {
            Ok(text) => put(&text),
            Err(why) => unusable(&why),
        };
    }
    let mut others = Vec::new();
    if let Some(folder) = &args.out {
        others = match files::write_building(folder, &found) {
            Ok(others) => others,
            Err(error) => return unusable(&error),
        };
    }
    let text = if args.json {
        match to_json(&found) {
            Ok(text) => text,
            Err(exit) => return exit,
        }
    } else {
        build_tables::text(&found, args.all, page::width())
    };
    let exit = put(&text);
    print_warnings(&of_other_runs(&others));
    if exit == DONE { verdict(&found) } else { exit }
}

/// What forbids building makes the exit code 1.
fn verdict(found: &Building) -> Exit {
    match found.can_be_built.verdict {
        Verdict::Forbidden => FAULTS,
        Verdict::Assumed | Verdict::Good => DONE,
    }
}
