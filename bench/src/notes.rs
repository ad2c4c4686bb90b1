//! What the reader of the table must know beside it.

use crate::figures::Figures;
use crate::measure::sun_to_dc::SITES;
use crate::rows::shown;

/// A line or two for each row that wants them.
pub(crate) fn notes(of: &Figures) -> String {
    let energy = SITES.into_iter().filter_map(|site| {
        let (ours, theirs) = of.kwh(site)?;
        let apart = (ours / theirs - 1.0) * 100.0;
        Some(format!("{site} {ours:.0} and {theirs:.0} kWh ({apart:+.1}%)"))
    });
    let energy = energy.collect::<Vec<_>>().join(", ");
    format!(
        "\
a  Ours also takes off what the glass reflects, shares each hour among its minutes by clearness and
   interpolates air and wind; pvlib has each hour repeated. Year's energy, ours and pvlib's:
   {energy}.
   pvlib solves its diode at night too, where ours has nothing to do; the line below leaves it out.
b  A step of the year, however many passes the tank asks for; the stages stand ready.
c  From the start of the process to its exit. Memory: the most of all starts; pvlib's process.
d  Mean of five networks. What Python's calls cost, {calls} ns a solve, is taken off EPANET's time.
   Ours also gives shaft, motor and cable power and the pump's efficiency.
g  Steps: sun to DC, devices and the year of dual-mode. Designs: finished answers of dual-mode at
   10 min, with money, that share nothing. n^1 is a straight line through nothing.
h  From the request to the text of its answer, eleven arrangements of Mulenga Ridge at 10 min, 60 values
   of each slider; the slowest slider. What each stage takes stands in the table of changes.
b, c, e, f, h have no reference that does the same: pvlib's year of row a at {unit} is their unit.
",
        calls = shown(of.epanet_calls_s() * 1e9),
        unit = SITES[0],
    )
}
