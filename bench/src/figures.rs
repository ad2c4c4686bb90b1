//! What a run measured, and the minimum of each over its rounds.

use std::ffi::OsString;

use serde::Deserialize;

use crate::children::{Children, Cores, Taken};
use crate::engine::root;
use crate::measure::Measure;
use crate::measure::changes::Dragged;
use crate::measure::duty::{SOLVES, Solved};
use crate::measure::growth::Growth;
use crate::measure::plant_years::PlantYears;
use crate::measure::sun_to_dc::{SITES, Site};
use crate::measure::synthetic::Synthetic;
use crate::measure::year_loop::{PLANT, YearLoop};
use crate::timing::least;

/// Rounds of everything.
pub(crate) const ROUNDS: usize = 3;
/// Cold starts in each round.
const STARTS: u32 = 5;

/// A run.
#[derive(Debug, Clone)]
pub(crate) struct Figures {
    /// Rounds of the run.
    pub(crate) rounds: Vec<Round>,
    /// Cost by number of steps and by number of designs.
    pub(crate) growth: Growth,
    /// Plant-years with warm stages.
    pub(crate) plant_years: PlantYears,
    /// Values changed on the page.
    pub(crate) changes: Vec<Dragged>,
}

/// Everything once, one after the other.
#[derive(Debug, Clone)]
pub(crate) struct Round {
    /// pvlib's chains.
    pub(crate) pvlib: Pvlib,
    /// Time and memory of their process.
    pub(crate) pvlib_taken: Taken,
    /// EPANET's solves.
    pub(crate) epanet: Epanet,
    sites: Vec<Site>,
    duty: Vec<Solved>,
    year: YearLoop,
    synthetic: Synthetic,
    run: Taken,
    compare: Taken,
}

/// Output of `speed_pvlib.py`.
#[derive(Debug, Clone, Deserialize)]
pub(crate) struct Pvlib {
    sites: Vec<Chain>,
    /// Versions of the libraries that it uses.
    pub(crate) versions: Vec<String>,
}

#[derive(Debug, Clone, Deserialize)]
struct Chain {
    site: String,
    steps: u32,
    seconds: f64,
    seconds_without_nights: f64,
    kwh: f64,
}

/// Output of `speed_epanet.py`.
#[derive(Debug, Clone, Deserialize)]
pub(crate) struct Epanet {
    solves: u32,
    sets: Vec<EpanetSolved>,
    /// EPANET's version.
    pub(crate) version: String,
}

#[derive(Debug, Clone, Deserialize)]
struct EpanetSolved {
    set: String,
    seconds: f64,
    calls_s: f64,
    mean_flow_m3_h: f64,
}

/// Measures everything.
pub(crate) fn gather(children: &Children) -> Result<Figures, String> {
    let rounds = (1..=ROUNDS).map(|number| {
        eprintln!("round {number} of {ROUNDS}");
        Round::measure(children)
    });
    let rounds = rounds.collect::<Result<_, _>>()?;
    eprintln!("growth");
    Ok(Figures {
        rounds,
        growth: children.own(Measure::Growth, Cores::One)?,
        plant_years: children.own(Measure::PlantYears, Cores::All)?,
        changes: children.own(Measure::Changes, Cores::All)?,
    })
}

impl Round {
    fn measure(children: &Children) -> Result<Self, String> {
        let plants = SITES.map(|site| OsString::from(root().join("bench/plants").join(site)));
        let (pvlib, pvlib_taken) = children.script("speed_pvlib.py", &plants)?;
        let run = ["run", PLANT, "--arrangement", "dual-mode", "--step", "1min", "--json"];
        Ok(Self {
            pvlib,
            pvlib_taken,
            sites: children.own(Measure::SunToDc, Cores::One)?,
            epanet: children.script("speed_epanet.py", &[SOLVES.to_string().into()])?.0,
            duty: children.own(Measure::Duty, Cores::One)?,
            year: children.own(Measure::YearLoop, Cores::One)?,
            synthetic: children.own(Measure::Synthetic, Cores::One)?,
            run: children.daylift(Cores::One, STARTS, &run)?,
            compare: children.daylift(Cores::All, STARTS, &["compare", PLANT, "--json"])?,
        })
    }

    fn chain(&self, site: &str) -> Option<&Chain> {
        self.pvlib.sites.iter().find(|chain| chain.site == site)
    }
}

impl Figures {
    fn least(&self, of: impl Fn(&Round) -> f64) -> f64 {
        least(self.rounds.iter().map(of))
    }

    /// Our year from sun to DC at a site \[s\].
    pub(crate) fn sun_to_dc_s(&self, site: &str) -> f64 {
        let ours = |round: &Round| least(round.sites.iter().filter(|s| s.site == site).map(|s| s.seconds));
        self.least(ours)
    }

    /// pvlib's year at a site \[s\].
    pub(crate) fn chain_s(&self, site: &str) -> f64 {
        self.least(|round| round.chain(site).map_or(f64::NAN, |c| c.seconds))
    }

    /// pvlib's year at a site with its diode solved by day only \[s\].
    pub(crate) fn chain_by_day_s(&self, site: &str) -> f64 {
        self.least(|round| round.chain(site).map_or(f64::NAN, |c| c.seconds_without_nights))
    }

    /// pvlib's year at the first site \[s\]: the unit of the rows that have no outside reference.
    pub(crate) fn unit_s(&self) -> f64 {
        self.chain_s(SITES[0])
    }

    /// One step of pvlib's year at the first site \[s\].
    pub(crate) fn unit_step_s(&self) -> f64 {
        let chain = self.rounds.first().and_then(|round| round.chain(SITES[0]));
        self.unit_s() / chain.map_or(f64::NAN, |c| f64::from(c.steps))
    }

    /// Peak memory of pvlib's process \[B\].
    pub(crate) fn unit_bytes(&self) -> f64 {
        self.least(|round| least(round.pvlib_taken.peak_bytes.iter().copied()))
    }

    /// One step of our year loop \[s\].
    pub(crate) fn year_step_s(&self) -> f64 {
        #[expect(clippy::cast_precision_loss, reason = "steps of one year are exact in f64")]
        self.least(|round| round.year.seconds / round.year.steps as f64)
    }

    /// A year of hours made from twelve means, with the sun's table already computed \[s\].
    pub(crate) fn synthetic_s(&self) -> f64 {
        self.least(|round| round.synthetic.seconds)
    }

    /// The sun's table of that year \[s\].
    pub(crate) fn sun_table_s(&self) -> f64 {
        self.least(|round| round.synthetic.table_s)
    }

    /// `run` from start to exit \[s\].
    pub(crate) fn run_s(&self) -> f64 {
        self.least(|round| least(round.run.wall_s.iter().copied()))
    }

    /// Peak memory of `run`: the maximum of all starts \[B\].
    pub(crate) fn run_bytes(&self) -> f64 {
        let peaks = self.rounds.iter().flat_map(|round| &round.run.peak_bytes);
        peaks.copied().fold(0.0, f64::max)
    }

    /// `compare` from start to exit \[s\].
    pub(crate) fn compare_s(&self) -> f64 {
        self.least(|round| least(round.compare.wall_s.iter().copied()))
    }

    /// One of our solves, mean of the sets \[s\].
    pub(crate) fn solve_s(&self) -> f64 {
        let of = |at: usize| self.least(|round| round.duty[at].seconds) / f64::from(SOLVES);
        self.mean_of_sets(of)
    }

    /// One of EPANET's solves, mean of the sets, less the cost of the calls from Python \[s\].
    pub(crate) fn epanet_solve_s(&self) -> f64 {
        let solves = self.rounds.first().map_or(f64::NAN, |round| f64::from(round.epanet.solves));
        let whole = |at: usize| self.least(|round| round.epanet.sets[at].seconds);
        let calls = |at: usize| self.least(|round| round.epanet.sets[at].calls_s);
        self.mean_of_sets(|at| (whole(at) - calls(at)) / solves)
    }

    /// Cost of the calls from Python per solve \[s\].
    pub(crate) fn epanet_calls_s(&self) -> f64 {
        let solves = self.rounds.first().map_or(f64::NAN, |round| f64::from(round.epanet.solves));
        self.mean_of_sets(|at| self.least(|round| round.epanet.sets[at].calls_s) / solves)
    }

    #[expect(clippy::cast_precision_loss, reason = "a handful of sets")]
    fn mean_of_sets(&self, of: impl Fn(usize) -> f64) -> f64 {
        let sets = self.rounds.first().map_or(0, |round| round.duty.len());
        (0..sets).map(of).sum::<f64>() / sets as f64
    }

    /// Energy of the year at a site, ours and pvlib's \[kWh\].
    pub(crate) fn kwh(&self, site: &str) -> Option<(f64, f64)> {
        let round = self.rounds.first()?;
        let ours = round.sites.iter().find(|s| s.site == site)?;
        Some((ours.kwh, round.chain(site)?.kwh))
    }

    /// Checks that both sides did the same work.
    ///
    /// # Errors
    /// A text that says what differs.
    pub(crate) fn agree(&self) -> Result<(), String> {
        for site in SITES {
            let (ours, theirs) = self.kwh(site).ok_or_else(|| format!("{site} was not timed on both sides"))?;
            if (ours / theirs - 1.0).abs() > ENERGY_APART {
                return Err(format!(
                    "{site}: {ours:.0} kWh here, {theirs:.0} by pvlib: not the same work"
                ));
            }
        }
        for round in &self.rounds {
            if round.duty.len() != round.epanet.sets.len() {
                return Err("EPANET solved a different number of sets".to_owned());
            }
            for (ours, theirs) in round.duty.iter().zip(&round.epanet.sets) {
                let apart = (ours.mean_flow_m3_h / theirs.mean_flow_m3_h - 1.0).abs();
                if ours.set != theirs.set || apart > FLOW_APART {
                    return Err(format!(
                        "{}: the flow differs from EPANET's for {}",
                        ours.set, theirs.set
                    ));
                }
            }
        }
        Ok(())
    }
}

/// Largest relative difference of the year's energy. Only our side computes reflection, which takes a few per cent.
const ENERGY_APART: f64 = 0.06;
/// Largest relative difference of the mean flow, as in the validation.
const FLOW_APART: f64 = 0.01;
