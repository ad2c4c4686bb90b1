//! Processes that measure: this program's own, pvlib's and EPANET's, and `daylift` from start to exit.

use std::ffi::{OsStr, OsString};
use std::path::PathBuf;
use std::process::Command;

use serde::Deserialize;
use serde::de::DeserializeOwned;

use crate::engine::root;
use crate::measure::Measure;

/// Where they are.
#[derive(Debug)]
pub(crate) struct Children {
    python: PathBuf,
    daylift: PathBuf,
    own: PathBuf,
}

/// On how many cores a process may run.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Cores {
    /// One.
    One,
    /// All that the machine has.
    All,
}

/// Time and memory of a process, run by run.
#[derive(Debug, Clone, Deserialize)]
pub(crate) struct Taken {
    /// Whether it was pinned to one core; some systems cannot do that.
    pub(crate) held_to_one_core: bool,
    /// Start to exit \[s\].
    pub(crate) wall_s: Vec<f64>,
    /// Peak memory \[B\].
    pub(crate) peak_bytes: Vec<f64>,
    /// What the last run printed.
    output: String,
}

impl Children {
    /// With the paths of Python and of the program.
    pub(crate) fn new(python: PathBuf, daylift: PathBuf) -> Result<Self, String> {
        let own = std::env::current_exe().map_err(|e| format!("cannot find this program's own path: {e}"))?;
        Ok(Self { python, daylift, own })
    }

    /// One of this program's own measurements.
    pub(crate) fn own<T: DeserializeOwned>(&self, measure: Measure, cores: Cores) -> Result<T, String> {
        let command = [self.own.as_os_str(), "measure".as_ref(), measure.name().as_ref()];
        self.start(cores, 1, &command)?.read()
    }

    /// A script of the validation, with the time and memory of its process.
    pub(crate) fn script<T: DeserializeOwned>(&self, name: &str, args: &[OsString]) -> Result<(T, Taken), String> {
        let script = root().join("validation/scripts").join(name);
        let command = [self.python.as_os_str(), script.as_os_str()];
        let command: Vec<&OsStr> = command.into_iter().chain(args.iter().map(OsString::as_os_str)).collect();
        let taken = self.start(Cores::One, 1, &command)?;
        Ok((taken.read()?, taken))
    }

    /// The program from start to exit.
    pub(crate) fn daylift(&self, cores: Cores, times: u32, args: &[&str]) -> Result<Taken, String> {
        let args = args.iter().map(OsStr::new);
        let command: Vec<&OsStr> = std::iter::once(self.daylift.as_os_str()).chain(args).collect();
        self.start(cores, times, &command)
    }

    fn start(&self, cores: Cores, times: u32, command: &[&OsStr]) -> Result<Taken, String> {
        let launcher = root().join("validation/scripts/speed_launch.py");
        let cores = match cores {
            Cores::One => "one",
            Cores::All => "all",
        };
        let out = Command::new(&self.python)
            .arg(launcher)
            .args([cores, &times.to_string()])
            .args(command)
            .current_dir(root())
            .env("OPENBLAS_NUM_THREADS", "1")
            .output()
            .map_err(|e| format!("{}: {e}", self.python.display()))?;
        if !out.status.success() {
            let stderr = String::from_utf8_lossy(&out.stderr);
            return Err(format!("{} failed\n{stderr}", command.join(OsStr::new(" ")).display()));
        }
        serde_json::from_slice(&out.stdout).map_err(|e| format!("cannot read the launcher's output: {e}"))
    }
}

impl Taken {
    fn read<T: DeserializeOwned>(&self) -> Result<T, String> {
        serde_json::from_str(&self.output).map_err(|e| format!("cannot read a measurement's output: {e}"))
    }
}
