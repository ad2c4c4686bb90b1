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
cargo xtask test                   everything that a change must pass, on a fresh machine
cargo xtask page                   the page in a real browser, against the program as it is built now
cargo xtask validation             the checks against the outside, as a table
cargo xtask validation --random    the engine against the reference simulator on 200 random plants (two minutes)
cargo xtask validation --refresh   make the reference results anew (wants python3 and the package index)
cargo xtask bench                  the speed table, and whether its ratios hold (wants python3 and the package index)
cargo xtask bench --commit         the same; its ratios become the ones to hold
cargo xtask fuzz [SECONDS] [FILE]  broken input files without end, 20 s for each kind or SECONDS (wants nightly Rust)
cargo xtask kill [TIMES]           kill the desk while it saves, 10,000 times or TIMES, and look at the plant file
cargo xtask mutants [MINUTES] [FILE]
                                   small alterations of the code that settles and accounts, each of which a test must
                                   notice: as many as 30 minutes or MINUTES allow, of all files or of FILE (`settle`)
cargo xtask inside-the-hour        the table of docs/inside-the-hour.md: what clouds within the hour do to the water (minutes)
cargo xtask schema                 write the JSON Schemas into docs/schema, the reference page docs/plant-file.md, and the
                                   page's description and types (wants npm)
cargo xtask guide                  write what the commands in README.md and docs/user-guide.md print now into these pages
cargo xtask picture                take the picture of the page in docs/page.png (wants npm and Chromium)
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
