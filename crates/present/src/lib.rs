//! Between an answer and its readers: words, figures and tables. Answers carry ids and figures; what is said of them is
//! here.
//!
//! **Words** are in the Fluent files under `words/en`: `terms.ftl` is what terminal and page both say, `answers.ftl` what
//! the program says in its answers (also in JSON), `terminal.ftl` what the terminal alone says; `page.ftl` is the page's.
//! They are asked for by [`say!`] and, for a member of a closed list, by [`term!`]. A test compares what is asked for with
//! what is there, both ways. Figures come into a text as text; a count comes in as a number, for its plural.
//!
//! **Honest rounding.** A number that is not nothing never shows as 0, and a share that is not whole never shows as 100 %:
//! the bound that it keeps shows instead, `<1` or `>99.9%`. What differs from 0 or from the whole by a billionth or less
//! is rounding of the books and counts as 0 or whole. Terminal ([`number`]) and page are both held to the cases of
//! `words/rounding-cases.json`.
//!
//! **Tables**: which sections, lines and parts a result has ([`mod@compare`], [`run`], [`flows`], [`strings`]), without a
//! layout. **Answers** as other programs read them, their words in them: [`answers`].

pub mod answers;
pub mod changes;
pub mod compare;
pub mod findings;
pub mod flows;
pub mod names;
pub mod notices;
pub mod number;
pub mod run;
pub mod strings;
pub mod table;
pub mod words;

pub use daylift_units::Id;
pub use names::Names;
