//! The worked examples, carried in the program so that it needs no other files.

use std::collections::BTreeSet;

use rust_embed::Embed;

/// The example that a plant starts from unless another is named.
pub(crate) const USUAL: &str = "mulenga-ridge";

/// Name of a plant file, and of the weather file of an example that has one.
pub(crate) const PLANT: &str = "plant.toml";
pub(crate) const WEATHER: &str = "weather.csv";

#[derive(Embed)]
#[folder = "../../examples/"]
#[include = "*/*.toml"]
#[include = "*/*.csv"]
#[include = "*/*.md"]
struct Examples;

/// Names of the examples.
pub(crate) fn names() -> Vec<String> {
    let names: BTreeSet<String> = Examples::iter()
        .filter_map(|path| path.split_once('/').map(|(name, _)| name.to_owned()))
        .collect();
    names.into_iter().collect()
}

/// Files of an example with their contents; its plant file says where it comes from and that all its values are assumed.
pub(crate) fn files(example: &str) -> Vec<(String, Vec<u8>)> {
    let inside = |path: &str| path.strip_prefix(example).and_then(|rest| rest.strip_prefix('/').map(str::to_owned));
    Examples::iter()
        .filter_map(|path| {
            let name = inside(&path)?;
            let content = Examples::get(&path)?.data.into_owned();
            let content = if name == PLANT {
                assumed(&String::from_utf8_lossy(&content), example).into_bytes()
            } else {
                content
            };
            Some((name, content))
        })
        .collect()
}

fn assumed(text: &str, example: &str) -> String {
    // Keys of the whole file must stand before its first section.
    let at = text.find("\nformat").map_or(0, |i| i + 1);
    let (head, rest) = text.split_at(at);
    format!(
        "{head}# Started from the worked example {example}. Its values are assumed until they are confirmed on the farm:\n\
         # put sections or keys such as \"well\" or \"tank.capacity_m3\" in the place of \"*\" as the list grows shorter.\n\
         assumed = [\"*\"]\n\n{rest}"
    )
}
