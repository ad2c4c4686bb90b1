//! What a page shows of an output, and the same of a newer output.

/// The line that marks lines left out.
const LEFT_OUT: &str = "…";

/// What a step of the way from the shown lines to the printed ones costs: a shown line that goes, a new line between
/// shown ones, and a changed line with nothing in common. A line with a tenth in common is taken for a changed one.
const GONE: f64 = 1.8;
const NEW: f64 = 0.5;
const UNLIKE: f64 = 2.0;
/// What a line with the same words and other figures costs.
const OTHER_FIGURES: f64 = 0.1;

/// The shown lines as they are printed now, with the same left out. Lines that changed are found by their likeness, in
/// order; what is shown line for line stays as it is.
pub(crate) fn refreshed(shown: &[String], printed: &[String]) -> Vec<String> {
    let costs = costs(shown, printed);
    let mut out = Vec::new();
    let (mut i, mut j) = (0, 0);
    while (i, j) != (shown.len(), printed.len()) {
        let step = steps(shown, printed, i, j).min_by(|a, b| f64::total_cmp(&total(&costs, a), &total(&costs, b)));
        let step = step.unwrap();
        match step.takes {
            Takes::InSight => out.push(printed[j].clone()),
            Takes::LeftOut if out.last().is_none_or(|line| line != LEFT_OUT) => out.push(LEFT_OUT.to_owned()),
            Takes::LeftOut | Takes::Nothing => {}
        }
        (i, j) = step.to;
    }
    out
}

/// What becomes of the next printed line.
#[derive(Clone, Copy)]
enum Takes {
    InSight,
    LeftOut,
    Nothing,
}

struct Way {
    to: (usize, usize),
    takes: Takes,
    cost: f64,
}

fn total(costs: &[Vec<f64>], way: &Way) -> f64 {
    way.cost + costs[way.to.0][way.to.1]
}

/// Where the way may go from shown line `i` and printed line `j`.
fn steps(shown: &[String], printed: &[String], i: usize, j: usize) -> impl Iterator<Item = Way> {
    let way = |to, takes, cost| Some(Way { to, takes, cost });
    let (line, next) = (shown.get(i), printed.get(j));
    let ways = match (line.map(String::as_str), next) {
        (Some(LEFT_OUT), Some(_)) => [
            way((i, j + 1), Takes::LeftOut, 0.0),
            way((i + 1, j), Takes::Nothing, 0.0),
            None,
        ],
        (Some(LEFT_OUT), None) => [way((i + 1, j), Takes::Nothing, 0.0), None, None],
        (Some(line), Some(next)) => [
            way((i + 1, j + 1), Takes::InSight, unlikeness(line, next)),
            way((i + 1, j), Takes::Nothing, GONE),
            way((i, j + 1), Takes::InSight, NEW),
        ],
        (Some(_), None) => [way((i + 1, j), Takes::Nothing, GONE), None, None],
        (None, Some(_)) => [way((i, j + 1), Takes::InSight, NEW), None, None],
        (None, None) => [None, None, None],
    };
    ways.into_iter().flatten()
}

/// Least cost from each place to the end.
fn costs(shown: &[String], printed: &[String]) -> Vec<Vec<f64>> {
    let mut costs = vec![vec![f64::INFINITY; printed.len() + 1]; shown.len() + 1];
    costs[shown.len()][printed.len()] = 0.0;
    for i in (0..=shown.len()).rev() {
        for j in (0..=printed.len()).rev() {
            let least = steps(shown, printed, i, j).map(|way| total(&costs, &way)).reduce(f64::min);
            costs[i][j] = least.unwrap_or(costs[i][j]);
        }
    }
    costs
}

/// 0 for the same line, `UNLIKE` for lines with nothing in common. Other figures are a small change.
fn unlikeness(line: &str, next: &str) -> f64 {
    if line == next {
        return 0.0;
    }
    let [line, next] = [line, next].map(|line| line.to_lowercase().replace(|c: char| c.is_ascii_digit(), "0"));
    OTHER_FIGURES + (UNLIKE - OTHER_FIGURES) * (1.0 - strsim::sorensen_dice(&line, &next))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lines(text: &str) -> Vec<String> {
        text.lines().map(str::to_owned).collect()
    }

    fn refresh(shown: &str, printed: &str) -> String {
        refreshed(&lines(shown), &lines(printed)).join("\n")
    }

    #[test]
    fn what_is_shown_line_for_line_stays() {
        let printed = "head\n\na 1\nb 2\nc 3\n\nfoot";
        for shown in [
            printed,
            "head\n…\nb 2\n…\nfoot",
            "…\nc 3\n\nfoot",
            "head\n…",
            "…\nb 2\n…",
        ] {
            assert_eq!(refresh(shown, printed), shown);
        }
    }

    #[test]
    fn changed_lines_are_found_and_new_ones_are_shown_where_their_neighbours_are() {
        let printed = "The head\n\nwater delivered 120 m³\nwater overflowed 3 m³\nbill 17 USD\nhours 9\n\nThe foot";
        let shown = "Head\n…\nwater, delivered 119 m³\nbill 16 USD\n…";
        let now = "The head\n…\nwater delivered 120 m³\nwater overflowed 3 m³\nbill 17 USD\n…";
        assert_eq!(refresh(shown, printed), now);
    }

    #[test]
    fn rows_of_figures_keep_their_place() {
        let printed = "what  kWh\n\n  Jan  17  4\n  Feb  23  5\n  Mar  31  6\n\nfoot";
        assert_eq!(
            refresh("…\n  Jan  99  9\n  Feb  88  8\n…", printed),
            "…\n  Jan  17  4\n  Feb  23  5\n…"
        );
    }

    #[test]
    fn lines_that_are_printed_no_more_go() {
        assert_eq!(refresh("a\nsomething else\nc", "a\nc"), "a\nc");
        assert_eq!(refresh("all of it\n…", "all of it"), "all of it");
    }

    #[test]
    fn an_output_that_is_not_shown_at_all_is_shown_whole() {
        assert_eq!(refresh("", "a\nb"), "a\nb");
    }
}
