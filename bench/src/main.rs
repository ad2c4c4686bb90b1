//! The speed of the program, as ratios to reference libraries timed in the same run.
//!
//! `cargo xtask bench` prepares what this needs and runs it. Without a subcommand it runs everything: every measurement is
//! a separate process, pinned to one core where the row says so. All run in rounds, so that a slow period of the machine
//! affects both sides of a ratio. `measure` is one such process.

mod children;
mod committed;
mod engine;
mod figures;
mod machine;
mod measure;
mod notes;
mod rows;
mod table;
mod timing;

use std::path::PathBuf;
use std::process::ExitCode;

use clap::{Parser, Subcommand};

use children::Children;
use committed::Committed;
use measure::Measure;

#[derive(Debug, Parser)]
#[command(subcommand_negates_reqs = true)]
struct Args {
    /// Python of the validation's environment.
    #[arg(long, required = true)]
    python: Option<PathBuf>,
    /// The `daylift` program, a release build.
    #[arg(long, required = true)]
    daylift: Option<PathBuf>,
    /// Save this run's ratios as the ones to check against.
    #[arg(long)]
    commit: bool,
    #[command(subcommand)]
    what: Option<What>,
}

#[derive(Debug, Subcommand)]
enum What {
    /// One measurement in this process; prints JSON.
    Measure {
        /// Which measurement.
        of: Measure,
    },
}

fn main() -> ExitCode {
    let args = Args::parse();
    let done = match (args.what, args.python, args.daylift) {
        (Some(What::Measure { of }), ..) => of.print().map(|()| true),
        (None, Some(python), Some(daylift)) => Children::new(python, daylift).and_then(|c| whole(&c, args.commit)),
        _ => Err("give --python and --daylift".to_owned()),
    };
    match done {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(why) => {
            eprintln!("bench: {why}");
            ExitCode::FAILURE
        }
    }
}

/// Runs everything and prints it; true when no ratio fell.
fn whole(children: &Children, commit: bool) -> Result<bool, String> {
    let figures = figures::gather(children)?;
    figures.agree()?;
    let rows = rows::rows(&figures);
    println!("{}", machine::describe(&figures));
    println!("{}", table::of_rows(&rows));
    println!("{}", table::of_growth(&figures.growth));
    println!("{}", table::of_changes(&figures.changes));
    println!("{}", notes::notes(&figures));
    if commit {
        let path = Committed::write(&rows)?;
        println!("wrote {}", path.display());
        return Ok(true);
    }
    let held = Committed::read()?.hold(&rows);
    println!("{held}");
    for line in held.failures() {
        eprintln!("bench: {line}");
    }
    Ok(held.failures().next().is_none())
}
