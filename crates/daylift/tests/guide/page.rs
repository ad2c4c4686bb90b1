//! A Markdown page as its fenced blocks and the text between them.

use std::fmt::{self, Display, Formatter};
use std::fs;
use std::path::Path;

const FENCE: &str = "```";

/// A page.
#[derive(Clone)]
pub(crate) struct Page(Vec<Part>);

#[derive(Clone)]
enum Part {
    Line(String),
    Block(Block),
}

/// A fenced block.
#[derive(Clone)]
pub(crate) struct Block {
    /// Language and the words behind it.
    words: Vec<String>,
    lines: Vec<String>,
}

impl Page {
    pub(crate) fn read(path: &Path) -> Self {
        Self::of(&fs::read_to_string(path).unwrap())
    }

    fn of(text: &str) -> Self {
        let mut parts = Vec::new();
        let mut lines = text.lines();
        while let Some(line) = lines.next() {
            let Some(words) = line.strip_prefix(FENCE) else {
                parts.push(Part::Line(line.to_owned()));
                continue;
            };
            let inside = lines.by_ref().take_while(|line| *line != FENCE);
            parts.push(Part::Block(Block {
                words: words.split_whitespace().map(str::to_owned).collect(),
                lines: inside.map(str::to_owned).collect(),
            }));
        }
        Self(parts)
    }

    pub(crate) fn blocks(&self) -> impl Iterator<Item = &Block> {
        self.0.iter().filter_map(|part| match part {
            Part::Block(block) => Some(block),
            Part::Line(_) => None,
        })
    }

    pub(crate) fn blocks_mut(&mut self) -> impl Iterator<Item = &mut Block> {
        self.0.iter_mut().filter_map(|part| match part {
            Part::Block(block) => Some(block),
            Part::Line(_) => None,
        })
    }
}

impl Display for Page {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        for part in &self.0 {
            match part {
                Part::Line(line) => writeln!(f, "{line}")?,
                Part::Block(block) => writeln!(f, "{FENCE}{}\n{}{FENCE}", block.words.join(" "), block.text())?,
            }
        }
        Ok(())
    }
}

impl Block {
    pub(crate) fn language(&self) -> &str {
        self.words.first().map_or("", String::as_str)
    }

    /// What follows `name=` behind the language.
    pub(crate) fn word(&self, name: &str) -> Option<&str> {
        self.words.iter().find_map(|word| word.strip_prefix(name)?.strip_prefix('='))
    }

    /// Its lines, each with its end.
    pub(crate) fn text(&self) -> String {
        self.lines.iter().map(|line| format!("{line}\n")).collect()
    }

    /// The command of a `console` block.
    pub(crate) fn command(&self) -> &str {
        self.lines.first().and_then(|line| line.strip_prefix("$ ")).unwrap_or_default()
    }

    /// Replaces the output below the command.
    pub(crate) fn show(&mut self, now: impl FnOnce(&[String]) -> Vec<String>) {
        let below = now(&self.lines[1..]);
        self.lines.truncate(1);
        self.lines.extend(below);
    }
}

#[test]
fn a_page_is_written_as_it_was_read() {
    let text = "# A\n\n```console exit=1\n$ daylift check x\nfault\n```\nand\n```toml write=x/plant.toml\na = 1\n```\n";
    let page = Page::of(text);
    assert_eq!(page.to_string(), text);
    let blocks: Vec<&Block> = page.blocks().collect();
    assert_eq!(
        (blocks[0].command(), blocks[0].word("exit")),
        ("daylift check x", Some("1"))
    );
    assert_eq!(
        (blocks[1].language(), blocks[1].word("write")),
        ("toml", Some("x/plant.toml"))
    );
}
