//! README and user guide show what the program prints: every command in them is run, every file in them is written.
//!
//! A page is a story, run in order in a folder of its own. Its fenced blocks are named by the words after the fence:
//!
//! - `console`: a command after `$ ` and what it prints; a line `…` marks lines left out. `exit=1` behind it: the
//!   command ends with this code.
//! - `toml write=PATH`, `csv write=PATH`: the whole text of a file.
//! - `toml sections=PATH`: sections of a plant file. They take the place of those of the same name, or are added.
//! - `toml delete=PATH`: headings of sections that are taken out of a plant file.
//!
//! Other blocks are not looked at. `cargo xtask guide` writes what the commands print now into the pages.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

#[path = "../support/mod.rs"]
mod support;

mod page;
mod sections;
mod shown;

use std::fs;
use std::path::{Path, PathBuf};

use daylift_testing::folder;
use page::{Block, Page};
use tempfile::TempDir;

/// Runs a page's blocks in a folder; gives the page with what its commands print now.
fn run(page: &Page, place: &Path) -> Page {
    let mut now = page.clone();
    for block in now.blocks_mut() {
        let at = |path: &str| place.join(path);
        if let Some(path) = block.word("write") {
            fs::write(at(path), block.text()).unwrap();
        } else if let Some(path) = block.word("sections") {
            edit(&at(path), |text| sections::put(text, &block.text()));
        } else if let Some(path) = block.word("delete") {
            edit(&at(path), |text| sections::taken_out(text, &block.text()));
        } else if block.language() == "console" {
            let printed = printed(block, place);
            block.show(|shown| shown::refreshed(shown, &printed));
        }
    }
    now
}

fn edit(path: &Path, change: impl Fn(&str) -> String) {
    let text = fs::read_to_string(path).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
    fs::write(path, change(&text)).unwrap();
}

/// What a block's command prints, output before errors.
fn printed(block: &Block, place: &Path) -> Vec<String> {
    let command = block.command();
    let words: Vec<&str> = command.split_whitespace().collect();
    let ["daylift", args @ ..] = &words[..] else {
        panic!("`{command}` is no command of the program");
    };
    let ran = support::daylift_in(place, args);
    let wanted: i32 = block.word("exit").map_or(0, |code| code.parse().unwrap());
    let said = [ran.stdout, ran.stderr].map(|text| String::from_utf8(text).unwrap());
    assert_eq!(
        ran.status.code(),
        Some(wanted),
        "`{command}` printed:\n{}",
        said.concat()
    );
    let lines = said.iter().flat_map(|text| text.trim_end().lines());
    lines.map(|line| line.trim_end().to_owned()).collect()
}

/// The pages, each with the folder that its commands run in.
fn pages() -> [(&'static str, PathBuf, Option<TempDir>); 2] {
    let scratch = TempDir::new().unwrap();
    [
        ("README.md", folder("."), None),
        ("docs/user-guide.md", scratch.path().to_owned(), Some(scratch)),
    ]
}

#[test]
fn readme_and_guide_show_what_the_program_prints() {
    for (name, place, _scratch) in pages() {
        let page = Page::read(&folder(name));
        assert!(page.blocks().any(|block| block.language() == "console"), "{name}");
        let now = run(&page, &place);
        for (before, after) in page.blocks().zip(now.blocks()) {
            assert!(
                before.text() == after.text(),
                "{name} is stale at `{}`: run `cargo xtask guide`. It shows\n{}\nand the program prints\n{}",
                before.command(),
                before.text(),
                after.text()
            );
        }
    }
}

#[test]
#[ignore = "writes README.md and docs/user-guide.md: run `cargo xtask guide`"]
fn write_what_the_program_prints() {
    for (name, place, _scratch) in pages() {
        let path = folder(name);
        fs::write(&path, run(&Page::read(&path), &place).to_string()).unwrap();
    }
}
