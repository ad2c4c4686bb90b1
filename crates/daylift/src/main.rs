//! The command line: reads arguments, prints, chooses exit codes. It computes nothing itself.

mod args;
mod commands;
mod examples;
mod exit;
mod files;
mod print;
mod progress;

use std::process::ExitCode;

use clap::Parser;

use crate::args::{Args, Command};

fn main() -> ExitCode {
    let args = match Args::try_parse() {
        Ok(args) => args,
        Err(error) => {
            // Help and version are answers and go to standard output with exit code 0.
            let _ = error.print();
            return if error.use_stderr() {
                exit::UNUSABLE.into()
            } else {
                exit::DONE.into()
            };
        }
    };
    match args.command {
        Command::New(args) => commands::new::new(&args),
        Command::Check(args) => commands::check::check(&args),
        Command::Run(args) => commands::run::run(&args),
        Command::Compare(args) => commands::compare::compare(&args),
        Command::Strings(args) => commands::strings::strings(&args),
        Command::Desk(args) => commands::desk::desk(args),
        Command::Schema(args) => commands::schema::schema(&args),
    }
    .into()
}
