//! `daylift run`.

use daylift_study::{Series, run as run_study};

use super::{open, put, to_json, unusable};
use crate::args::RunArgs;
use crate::exit::Exit;
use crate::files;
use crate::print::warnings::print_warnings;
use crate::print::{run_tables, working};

pub(crate) fn run(args: &RunArgs) -> Exit {
    let read = match open(&args.plant) {
        Ok(read) => read,
        Err(exit) => return exit,
    };
    let step = args.output.step.into();
    let axis = read.plant.site.axis.with_step(step);
    let mut series = Series::new(&axis);
    let answer = match run_study(&read.plant, args.arrangement, step, &read.warnings, &mut series) {
        Ok(answer) => answer.with_origins(&read.origins),
        Err(lacking) => return unusable(&lacks_parts(&read.plant, lacking)),
    };
    if let Some(folder) = &args.output.out
        && let Err(error) = files::write_run(folder, &answer, &axis, &series)
    {
        return unusable(&error);
    }
    print_warnings(&answer.row.warnings);
    if let Some(name) = &args.output.explain {
        let texts = working::texts(&answer.workings, name);
        return if texts.is_empty() {
            unusable(&format!(
                "`{name}` does not apply to {} on this plant",
                args.arrangement
            ))
        } else {
            put(&texts.join("\n"))
        };
    }
    if args.output.json {
        return match to_json(&answer) {
            Ok(text) => put(&text),
            Err(exit) => exit,
        };
    }
    put(&run_tables::text(&answer))
}

fn lacks_parts(plant: &daylift_plant::Plant, lacking: daylift_plant::Arrangement) -> String {
    let has = plant
        .arrangements()
        .into_iter()
        .map(daylift_plant::Arrangement::id)
        .collect::<Vec<_>>()
        .join(", ");
    format!(
        "{} does not have the parts for {lacking}; it has those for {has}",
        plant.name
    )
}
