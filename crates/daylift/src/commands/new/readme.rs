//! The README of a new plant: where it came from, what to change first, the commands.

use daylift_plant_file::edit::NewPlace;
use daylift_units::field::number;
use jiff::civil::Date;

use crate::examples;

/// Its file name.
pub(super) const NAME: &str = "README.md";

/// The text of a plant of that name with these files.
pub(super) fn text(
    name: &str,
    from: &str,
    place: Option<&NewPlace>,
    today: Date,
    files: &[(String, Vec<u8>)],
) -> String {
    let place = place.map_or_else(
        || "It still has the example's coordinates.".to_owned(),
        |p| {
            format!(
                "It is placed at latitude {}°, longitude {}°; its weather year is generated from a world grid of monthly means and is preliminary.",
                number(p.latitude_deg),
                number(p.longitude_deg)
            )
        },
    );
    format!(
        "# {name}\n\n\
         Started on {today} with `daylift new` from the worked example *{from}*. {place}\n\n\
         All values that you did not enter are those of the example, which is invented. They are marked as assumed: do \
         not buy or build anything based on them.\n\n\
         {CHANGE_FIRST}\n\
         ## Files\n\n\
         The unit of every number is in its key.\n\n\
         | file | what it is |\n|---|---|\n{}\n\
         {COMMANDS}",
        files.iter().map(line).collect::<String>()
    )
}

const CHANGE_FIRST: &str = "\
## Change first

Edit the files, or run `daylift desk` in this folder and change the values in a browser.

1. `[site]`: coordinates, altitude, time zone, coldest and hottest temperature on record.
2. `[well]`, `[[pipe]]`, `[outlet]`: standing water level by month, drawdown from a pumping test, lengths and bores.
3. The datasheets of pump and motor.
4. `[demand]` and `[tank]`: water demand of each month, size of the tank.
5. `[grid]`, `[tariff]` and the loads, if the farm has a grid: outages, prices, other loads on the meter.
6. The datasheets of module, inverter and drive, and the strings in `[array]`.
7. `[money]`: what the parts cost. With `per = \"module\"` and the other units of `per`, a cost follows the
   design, and `owned` is what the farm already has. You may leave out `[money]` and `[tariff]`: results then have no money.

Mark the values that you have checked at the end of `plant.toml`. A mark on a key overrides the mark on its section, and a
mark on a section overrides `\"*\"`:

```toml
[[origin]]
of = [\"well.static_level_m\", \"motor\"]
is = \"confirmed\" # or datasheet, given, found, generic, assumed
date = 2026-11-30
note = \"dip tape, pump at rest for a night\"
```
";

const COMMANDS: &str = "\
## Commands

In this folder:

```sh
daylift check .             # faults, warnings, whether the strings can be built, what to confirm first
daylift check . --values    # every value and where it came from
daylift compare .           # every arrangement side by side
daylift strings .           # layouts of the modules that suit inverter and drive
daylift desk                # the plant in a browser
```
";

/// A file with what it is, by its kind.
fn line((name, content): &(String, Vec<u8>)) -> String {
    let text = String::from_utf8_lossy(content);
    let kind = text.lines().find_map(|line| line.strip_prefix("kind = \"")?.split('"').next());
    let what = match (kind, name.as_str()) {
        (_, examples::PLANT) => "the plant: everything but datasheets and tables".to_owned(),
        (_, examples::WEATHER) => "the weather of a year, hour by hour".to_owned(),
        (Some(kind), _) => format!("datasheet of the {kind}"),
        (None, _) => "a table that `plant.toml` names".to_owned(),
    };
    format!("| `{name}` | {what} |\n")
}
