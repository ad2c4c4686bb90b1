//! Wholes under each other as bars of their parts, all to one scale. A part begins with its letter and goes on in its
//! pattern; colour is a second sign.

use daylift_present::flows::{Matter, Part};
use daylift_present::say;

use super::bars::{cells, paint, pattern};

/// Indent of a line.
const INDENT: usize = 4;

/// Bars with the letters' meanings below. Every row has the same parts in the same order, those of amount 0 too.
pub(crate) fn text(title: &str, rows: &[(&str, Vec<Part>)], width: usize) -> String {
    let greatest = rows.iter().map(|(_, parts)| sum(parts)).fold(0.0, f64::max);
    let Some((_, first)) = rows.first().filter(|_| greatest > 0.0) else {
        return String::new();
    };
    let names = rows.iter().map(|(name, _)| name.chars().count()).max().unwrap_or(0);
    let most = width.saturating_sub(INDENT + names + 2).max(10);
    let shown: Vec<Segments> = rows.iter().map(|(_, parts)| segments(parts, greatest, most)).collect();
    let letters = letters(first, &shown);
    let mut out = format!("\n  {title}\n");
    for ((name, parts), segments) in rows.iter().zip(&shown) {
        let bar: String = parts
            .iter()
            .zip(&letters)
            .zip(&segments.cells)
            .map(|((part, letter), &length)| segment(part.matter, *letter, length))
            .collect();
        let rest = segment(Matter::Rest, None, segments.rest);
        out += &format!("{:INDENT$}{name:<names$}  {bar}{rest}\n", "");
    }
    out + &legend(first, &letters, shown.iter().any(|s| s.rest > 0), width)
}

/// Cells of each part of a row; parts too small for a cell share one.
struct Segments {
    cells: Vec<usize>,
    rest: usize,
}

/// Each part is rounded by itself; the greatest part takes up the difference to the whole.
fn segments(parts: &[Part], greatest: f64, most: usize) -> Segments {
    let of = |amount: f64| cells(amount / greatest, most);
    let mut cells: Vec<usize> = parts.iter().map(|p| of(p.amount)).collect();
    let rest = of(parts.iter().map(|p| p.amount).filter(|a| of(*a) == 0).sum());
    let (whole, filled) = (of(sum(parts)), cells.iter().sum::<usize>() + rest);
    if let Some(longest) = cells.iter_mut().max() {
        *longest = (*longest + whole).saturating_sub(filled);
    }
    Segments { cells, rest }
}

fn sum(parts: &[Part]) -> f64 {
    parts.iter().map(|p| p.amount).sum()
}

fn segment(matter: Matter, letter: Option<char>, length: usize) -> String {
    if length == 0 {
        return String::new();
    }
    let head = letter.unwrap_or(pattern(matter));
    let pattern = pattern(matter).to_string().repeat(length - 1);
    paint(matter, &format!("{head}{pattern}"))
}

/// A letter for each part that shows: its preferred one if free, else a free initial of one of its words, else any free
/// letter. No two differ by their case alone.
fn letters(parts: &[Part], shown: &[Segments]) -> Vec<Option<char>> {
    let shows = |i: usize| shown.iter().any(|s| s.cells.get(i).is_some_and(|&n| n > 0));
    let showing = parts.iter().enumerate().filter(|(i, _)| shows(*i));
    let mut taken: Vec<char> = showing.filter_map(|(_, p)| p.letter).map(|l| l.to_ascii_lowercase()).collect();
    let mut choose = |part: &Part| {
        let mut wishes = initials(&part.name).chain('a'..='z');
        let letter = wishes.find(|c| !taken.contains(c)).unwrap_or('?');
        taken.push(letter);
        letter
    };
    parts
        .iter()
        .enumerate()
        .map(|(i, part)| shows(i).then(|| part.letter.unwrap_or_else(|| choose(part))))
        .collect()
}

/// Initials of the words of a cause, the small ones left out.
fn initials(name: &str) -> impl Iterator<Item = char> {
    let cause = name.rsplit(": ").next().unwrap_or(name);
    cause.split('-').filter(|word| word.len() > 2).filter_map(|word| word.chars().next())
}

fn legend(parts: &[Part], letters: &[Option<char>], rest: bool, width: usize) -> String {
    let the_rest = say!("bars-rest");
    let mut entries: Vec<(Matter, String, &str)> = parts
        .iter()
        .zip(letters)
        .filter_map(|(part, letter)| letter.map(|l| (part.matter, l.to_string(), part.name.as_str())))
        .collect();
    if rest {
        entries.push((Matter::Rest, pattern(Matter::Rest).to_string(), &the_rest));
    }
    let (mut out, mut column) = (String::new(), 0);
    for (matter, sign, name) in entries {
        let length = 2 + name.chars().count();
        if column == 0 || column + 3 + length > width {
            out += if column == 0 { "" } else { "\n" };
            out += &" ".repeat(INDENT);
            column = INDENT + length;
        } else {
            out += "   ";
            column += 3 + length;
        }
        out += &format!("{} {name}", paint(matter, &sign));
    }
    out + "\n"
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plain(text: &str) -> String {
        anstream::adapter::strip_str(text).to_string()
    }

    fn parts(pump: f64, loads: f64, down: f64, drive: f64, cables: f64) -> Vec<Part> {
        vec![
            Part::new("to the pump", pump, Matter::Water).letter("P"),
            Part::new("to the loads", loads, Matter::Loads).letter("L"),
            Part::new("grid-down", down, Matter::Lost),
            Part::new("grid-voltage-trip", drive, Matter::Lost),
            Part::new("cables", cables, Matter::Lost),
        ]
    }

    #[test]
    fn wholes_have_one_scale_and_letters_their_meaning() {
        let rows = [
            ("grid-tied", parts(20.0, 10.0, 5.0, 4.2, 0.8)),
            ("none", parts(20.0, 0.0, 0.0, 0.0, 0.0)),
        ];
        assert_eq!(
            plain(&text("Where the sun went", &rows, 55)),
            "
  Where the sun went
    grid-tied  P███████████████████L▓▓▓▓▓▓▓▓▓g░░░░v░░░c
    none       P███████████████████
    P to the pump   L to the loads   g grid-down
    v grid-voltage-trip   c cables
"
        );
    }

    #[test]
    fn parts_of_less_than_half_a_cell_are_taken_together() {
        let rows = [("a", parts(38.8, 0.0, 0.4, 0.4, 0.4))];
        assert_eq!(
            plain(&text("Sun", &rows, 47)),
            "
  Sun
    a  P██████████████████████████████████████·
    P to the pump   · the rest
"
        );
    }

    #[test]
    fn nothing_is_drawn_of_nothing() {
        assert_eq!(
            text(
                "Where the sun went",
                &[("grid-only", parts(0.0, 0.0, 0.0, 0.0, 0.0))],
                80
            ),
            ""
        );
    }

    #[test]
    fn no_bar_is_longer_than_its_page() {
        for loads in 0..200 {
            let rows = [
                ("a", parts(33.3, f64::from(loads), 0.3, 7.7, 0.3)),
                ("b", parts(1.0, 1.0, 1.0, 1.0, 1.0)),
            ];
            let longest = plain(&text("t", &rows, 70)).lines().map(|l| l.chars().count()).max().unwrap();
            assert_eq!(longest, 70, "{loads}");
        }
    }
}
