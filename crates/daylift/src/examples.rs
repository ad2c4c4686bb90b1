//! The worked examples, carried in the program so that it needs no other files.

use std::collections::BTreeSet;

use daylift_plant_file::{EditError, Mark, Origin, set_origin};
use rust_embed::Embed;

/// The default example for a new plant.
pub(crate) const USUAL: &str = "mulenga-ridge";

/// Name of a plant file, and of the weather file of an example that has one.
pub(crate) const PLANT: &str = "plant.toml";
pub(crate) const WEATHER: &str = "weather.csv";

#[derive(Embed)]
#[folder = "../../examples/"]
#[include = "*/*.toml"]
#[include = "*/*.csv"]
struct Examples;

/// Names of the examples.
pub(crate) fn names() -> Vec<String> {
    let names: BTreeSet<String> = Examples::iter()
        .filter_map(|path| path.split_once('/').map(|(name, _)| name.to_owned()))
        .collect();
    names.into_iter().collect()
}

/// Files of an example with their contents, without its README, which is about the example. The plant file names the
/// example instead of describing it, and marks all its values as assumed.
pub(crate) fn files(example: &str) -> Result<Vec<(String, Vec<u8>)>, EditError> {
    let inside = |path: &str| path.strip_prefix(example).and_then(|rest| rest.strip_prefix('/').map(str::to_owned));
    Examples::iter()
        .filter_map(|path| {
            let name = inside(&path)?;
            let content = Examples::get(&path)?.data.into_owned();
            let content = if name == PLANT {
                match assumed(&String::from_utf8_lossy(&content), example) {
                    Ok(text) => text.into_bytes(),
                    Err(why) => return Some(Err(why)),
                }
            } else {
                content
            };
            Some(Ok((name, content)))
        })
        .collect()
}

fn assumed(text: &str, example: &str) -> Result<String, EditError> {
    let marked = set_origin(text, &["*".to_owned()], Origin::Assumed, &Mark::default())?;
    let at = marked.find("\nformat").map_or(0, |i| i + 1);
    // The example's own comment above describes another farm.
    let rest = &marked[at..];
    Ok(format!(
        "# Started from the worked example {example}. Its values are assumed until you confirm them on the farm: add the key or\n\
         # section to an [[origin]] entry with is = \"confirmed\" at the end of this file.\n\
         # Lengths and levels are measured from the well head, downwards for the borehole and upwards for the outlet.\n\n{rest}"
    ))
}
