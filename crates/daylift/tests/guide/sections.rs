//! Sections of a plant file as text: put in place, or taken out, as a person does it in an editor.

/// Puts sections into a file: in place of those of the same name, else before the origins or at the end. Keys above the first heading take the
/// place of the file's head.
pub(crate) fn put(file: &str, sections: &str) -> String {
    let mut new = split(sections);
    let mut out = Vec::new();
    let mut origins = usize::MAX;
    for old in split(file) {
        if old.name == "origin" {
            origins = origins.min(out.len());
        }
        let (same, others): (Vec<Part<'_>>, Vec<Part<'_>>) = new.into_iter().partition(|part| part.name == old.name);
        new = others;
        let is_replaced = !same.is_empty() || split(sections).iter().any(|part| part.name == old.name);
        out.extend(same.into_iter().map(|part| part.text));
        if !is_replaced {
            out.push(old.text);
        }
    }
    let origins = origins.min(out.len());
    out.splice(origins..origins, new.into_iter().map(|part| part.text));
    out.join("\n")
}

/// Takes sections out of a file; each of them must be there.
pub(crate) fn taken_out(file: &str, headings: &str) -> String {
    let parts = split(file);
    let gone: Vec<&str> = headings.lines().filter_map(name_of).collect();
    for name in &gone {
        assert!(
            parts.iter().any(|part| part.name == *name),
            "there is no section [{name}]"
        );
    }
    let kept = parts.into_iter().filter(|part| !gone.contains(&part.name));
    kept.map(|part| part.text).collect::<Vec<_>>().join("\n")
}

/// A heading with what is above it as a comment, and with the keys below it; the head of the file has no name.
#[derive(Default)]
struct Part<'t> {
    /// The first word of the heading: `money` of `[[money.capital]]`.
    name: &'t str,
    text: String,
}

fn split(text: &str) -> Vec<Part<'_>> {
    let mut parts = vec![Part::default()];
    let mut above = String::new();
    for line in text.lines() {
        let name = name_of(line);
        parts.extend(name.map(|name| Part {
            name,
            ..Part::default()
        }));
        if name.is_none() && (line.starts_with('#') || line.is_empty()) {
            above.push_str(&format!("{line}\n"));
        } else {
            let part = parts.last_mut().unwrap();
            part.text.push_str(&format!("{}{line}\n", std::mem::take(&mut above)));
        }
    }
    for part in &mut parts {
        part.text = part.text.trim_start_matches('\n').to_owned();
    }
    parts.retain(|part| !part.text.is_empty());
    parts
}

fn name_of(line: &str) -> Option<&str> {
    line.trim_start_matches('[').split(['.', ']']).next().filter(|_| line.starts_with('['))
}

#[test]
fn sections_take_the_place_of_their_namesakes() {
    let file = "# head\nformat = 1\n\n# a well\n[well]\na = 1\n\n[[pipe]]\nb = 1\n\n[[pipe]]\nb = 2\n\n[tank]\nc = 1\n";
    let new = put(file, "[[pipe]]\nb = 3\n\n[grid]\nd = 1\n");
    assert_eq!(
        new,
        "# head\nformat = 1\n\n# a well\n[well]\na = 1\n\n[[pipe]]\nb = 3\n\n[tank]\nc = 1\n\n[grid]\nd = 1\n"
    );
    assert_eq!(
        put("[a]\n\n[[origin]]\nb = 1\n", "[c]\n"),
        "[a]\n\n[c]\n\n[[origin]]\nb = 1\n"
    );
    assert_eq!(put("format = 1\n[a]\n", "format = 2\n"), "format = 2\n\n[a]\n");
    let without = taken_out(file, "[[pipe]]\n[well]\n");
    assert_eq!(without, "# head\nformat = 1\n\n[tank]\nc = 1\n");
}
