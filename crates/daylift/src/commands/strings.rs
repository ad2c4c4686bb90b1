//! `daylift strings`.

mod take;

use daylift_present::answers;
use daylift_study::strings::{StringsAnswer, Verdict, judge_strings};

use super::{of_other_runs, open, put, to_json, unusable};
use crate::args::StringsArgs;
use crate::exit::{DONE, Exit, FAULTS};
use crate::files;
use crate::print::warnings::print_warnings;
use crate::print::{page, strings_tables};
use crate::progress::Progress;

pub(crate) fn strings(args: &StringsArgs) -> Exit {
    let read = match open(&args.plant) {
        Ok(read) => read,
        Err(exit) => return exit,
    };
    let found = {
        let mut progress = Progress::new("running the layouts");
        judge_strings(&read.plant, &read.origins, args.step.into(), &mut |done, total| {
            progress.set(done, total);
        })
    };
    let Some(found) = found else {
        return unusable(&format!(
            "{} has no [array], so there are no strings to check; add [array] to its plant file",
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
        others = match files::write_strings(folder, &found) {
            Ok(others) => others,
            Err(error) => return unusable(&error),
        };
    }
    let text = if args.json {
        match to_json(&answers::StringsAnswer::from(&found)) {
            Ok(text) => text,
            Err(exit) => return exit,
        }
    } else {
        strings_tables::text(&found, args.all, page::width())
    };
    let exit = put(&text);
    print_warnings(&of_other_runs(&others));
    if exit == DONE { verdict(&found) } else { exit }
}

/// Exit code 1 when a rule forbids building the strings.
fn verdict(found: &StringsAnswer) -> Exit {
    match found.can_be_built.verdict {
        Verdict::Forbidden => FAULTS,
        Verdict::Assumed | Verdict::Good => DONE,
    }
}
