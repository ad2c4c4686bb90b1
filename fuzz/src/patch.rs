//! A year of rows made from a few: an accepted file has thousands, and a fuzzer that writes them all finds nothing.

/// The base with its header replaced by the first line of the patch, and its row N by the text after `N:` in the other
/// lines. `N:` alone removes the row; other lines are appended.
#[must_use]
pub fn patched(rows: &[String], patch: &str) -> String {
    let mut lines = patch.lines();
    let header = lines.next().unwrap_or("").to_owned();
    let mut out: Vec<&str> = std::iter::once(header.as_str()).chain(rows.iter().map(String::as_str)).collect();
    let mut behind = Vec::new();
    for line in lines {
        let row = line.split_once(':').and_then(|(at, row)| Some((at.parse::<usize>().ok()?, row)));
        match row {
            Some((at, row)) => out[at % rows.len() + 1] = row,
            None => behind.push(line),
        }
    }
    out.extend(behind);
    out.retain(|line| !line.is_empty());
    out.join("\n")
}
