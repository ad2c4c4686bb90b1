//! Checks the program against independent sources and prints all results as one table.
//!
//! The tables in `data` were made by the scripts in `scripts`, which share no code with the program.

mod cash;
mod clouds;
mod common_practice;
mod data;
mod dc;
mod duty;
mod friction;
mod identities;
mod module;
mod outages;
mod plane;
mod shade;
mod sky_options;
mod stations;
mod strings;
mod sun;
mod voltage;
mod year;

use std::process::ExitCode;

use data::Outcome;
use daylift_validation::Report;

/// A subject and its checks.
type Check = (&'static str, fn(&mut Report) -> Outcome);

const CHECKS: [Check; 16] = [
    ("sun", sun::check),
    ("plane", plane::check),
    ("sky options", sky_options::check),
    ("shade", shade::check),
    ("stations", stations::check),
    ("clouds", clouds::check),
    ("module", module::check),
    ("DC year", dc::check),
    ("friction", friction::check),
    ("duty", duty::check),
    ("cash", cash::check),
    ("voltage rule", voltage::check),
    ("strings", strings::check),
    ("outages", outages::check),
    ("whole year", year::check),
    ("identities", identities::check),
];

fn main() -> ExitCode {
    let mut report = Report::default();
    for (subject, check) in CHECKS {
        if let Err(why) = check(&mut report) {
            report.broke(subject, &why.to_string());
        }
    }
    match common_practice::report() {
        Ok(text) => println!("{text}"),
        Err(why) => report.broke("common practice", &why.to_string()),
    }
    println!("{report}");
    if report.failed() == 0 {
        ExitCode::SUCCESS
    } else {
        ExitCode::FAILURE
    }
}
