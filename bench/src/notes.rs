//! Notes for the reader of the table.

use crate::figures::Figures;
use crate::measure::sun_to_dc::SITES;
use crate::rows::shown;

/// A line or two for each row that needs them.
pub(crate) fn notes(of: &Figures) -> String {
    let energy = SITES.into_iter().filter_map(|site| {
        let (ours, theirs) = of.kwh(site)?;
        let apart = (ours / theirs - 1.0) * 100.0;
        Some(format!("{site} {ours:.0} and {theirs:.0} kWh ({apart:+.1}%)"))
    });
    let energy = energy.collect::<Vec<_>>().join(", ");
    format!(
        "\
a  Ours also subtracts the reflection of the glass, shares each hour among its minutes by clearness
   and interpolates air and wind; pvlib gets each hour repeated. Year's energy, ours and pvlib's:
   {energy}.
   pvlib solves its diode at night too, where ours has nothing to do; the second line leaves that out.
b  A step of the year, whatever the number of passes; the stages are computed beforehand.
c  From the start of the process to its exit. Memory: the maximum of all starts; pvlib's process.
d  Mean of five networks. The cost of Python's calls, {calls} ns a solve, is subtracted from EPANET's.
   Ours also gives shaft, motor and cable power and the pump's efficiency.
g  Steps: sun to DC, devices and the year of dual-mode. Designs: finished answers of dual-mode at
   10 min, with money, that share nothing. n^1 means proportional to the count.
h  From the request to the text of its answer, eleven arrangements of Mulenga Ridge at 10 min, 60 values
   of each slider; the slowest slider. The table of changes has the time of each stage.
b, c, e, f, h, i have no reference that does the same: their unit is pvlib's year of row a at {unit}.
",
        calls = shown(of.epanet_calls_s() * 1e9),
        unit = SITES[0],
    )
}
