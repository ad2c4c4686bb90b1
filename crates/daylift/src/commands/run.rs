//! `daylift run`.

use daylift_present::answers;
use daylift_present::notices::notices;
use daylift_study::run::run_with;
use daylift_study::{NoRecorder, Run, Series};

use super::{as_typed, of_other_runs, open, put, to_json, unusable};
use crate::args::RunArgs;
use crate::exit::Exit;
use crate::files;
use crate::print::warnings::print_warnings;
use crate::print::{page, run_tables, working};
use crate::progress::Progress;

pub(crate) fn run(args: &RunArgs) -> Exit {
    let read = match open(&args.plant) {
        Ok(read) => read,
        Err(exit) => return exit,
    };
    let step = args.output.step.into();
    let axis = read.plant.site.axis.with_step(step);
    // The steps are recorded only for files.
    let mut series = args.output.out.is_some().then(|| Series::new(&axis));
    let result = {
        let _progress = Progress::new("running the year");
        let (plant, row, noticed) = (&read.plant, args.arrangement, &read.warnings);
        let effort = args.output.rules.into();
        match &mut series {
            Some(series) => run_with(plant, row, step, noticed, effort, series),
            None => run_with(plant, row, step, noticed, effort, &mut NoRecorder),
        }
    };
    let run = match result {
        Ok(run) => run.with_origins(&read.plant, &read.origins),
        Err(lacking) => return unusable(&lacks_parts(&read.plant, lacking)),
    };
    let mut others = Vec::new();
    if let (Some(folder), Some(series)) = (&args.output.out, &series) {
        others = match files::write_run(folder, &run, &axis, series) {
            Ok(others) => others,
            Err(error) => return unusable(&error),
        };
    }
    let exit = match answer(args, &run) {
        Ok(text) => put(&text),
        Err(exit) => return exit,
    };
    print_warnings(&notices(&run.notices));
    print_warnings(&of_other_runs(&others));
    exit
}

fn answer(args: &RunArgs, run: &Run) -> Result<String, Exit> {
    if let Some(name) = &args.output.explain {
        let texts = working::texts(&run.workings, name);
        return if texts.is_empty() {
            Err(unusable(&format!(
                "`{name}` does not apply to {} on this plant; try `--explain all`",
                args.arrangement
            )))
        } else {
            Ok(texts.join("\n"))
        };
    }
    if args.output.json {
        return to_json(&answers::Run::from(run));
    }
    Ok(run_tables::text(run, &as_typed(&args.plant), page::width()))
}

fn lacks_parts(plant: &daylift_plant::Plant, lacking: daylift_plant::Arrangement) -> String {
    let has = plant
        .arrangements()
        .into_iter()
        .map(daylift_plant::Arrangement::id)
        .collect::<Vec<_>>()
        .join(", ");
    format!(
        "{} lacks the parts for {lacking}; it has the parts for {has}",
        plant.name
    )
}
