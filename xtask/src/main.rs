//! Chores: `cargo xtask NAME`.

mod bench;
mod chore;
mod fuzz;
mod guide;
mod kill;
mod mutants;
mod page;
mod python;
mod schema;
mod test;
mod ui;
mod validation;
mod words;

use std::process::ExitCode;

const HELP: &str = "\
cargo xtask test                   everything that a change must pass; works on a fresh machine
cargo xtask page                   the page's tests in a real browser, on the program built from the current sources
cargo xtask validation             the checks against independent sources, as a table
cargo xtask validation --random    the engine compared with the reference simulator on 200 random plants (two minutes)
cargo xtask validation --refresh   make the reference results again (needs python3 and the package index)
cargo xtask bench                  the speed table, and a check of its ratios (needs python3 and the package index)
cargo xtask bench --commit         the same, and save its ratios as the ones to check against
cargo xtask fuzz [SECONDS] [FILE]  random broken input files, SECONDS for each kind (default: 20; needs nightly Rust)
cargo xtask kill [TIMES]           kill the desk TIMES (default: 10,000) while it saves, and check the plant file
cargo xtask mutants [MINUTES] [FILE]
                                   small changes to the code that settles and accounts, each of which a test must
                                   notice: for MINUTES (default: 30), in all files or in FILE (such as `settle`)
cargo xtask inside-the-hour        write the table of docs/inside-the-hour.md: effect of clouds within the hour on the water (minutes)
cargo xtask device-effects         write the table of what the losses and limits of devices cost into docs/model.md (minutes)
cargo xtask schema                 write the JSON Schemas into docs/schema, the reference page docs/plant-file.md, and the
                                   page's description and types (needs npm)
cargo xtask guide                  write what the commands in README.md and docs/user-guide.md print now into these pages
cargo xtask picture                take the picture of the page in docs/page.png (needs npm and Chromium)
";

fn main() -> ExitCode {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = args.iter().map(String::as_str).collect();
    let done = match words[..] {
        ["test"] => test::run(),
        ["page"] => page::in_browser(),
        ["validation"] => validation::run(),
        ["validation", "--random"] => validation::random(),
        ["validation", "--refresh"] => validation::refresh(),
        ["bench"] => bench::run(false),
        ["bench", "--commit"] => bench::run(true),
        ["fuzz", ref words @ ..] => fuzz::run(words),
        ["kill", ref words @ ..] => kill::run(words),
        ["mutants", ref words @ ..] => mutants::run(words),
        ["inside-the-hour"] => validation::inside_the_hour(),
        ["device-effects"] => validation::device_effects(),
        ["schema"] => schema::write(),
        ["guide"] => guide::write(),
        ["picture"] => page::picture(),
        [] | ["help" | "--help"] => {
            print!("{HELP}");
            Ok(())
        }
        _ => Err(format!("unknown chore `{}`\n\n{HELP}", words.join(" "))),
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            eprintln!("xtask: {why}");
            ExitCode::FAILURE
        }
    }
}
