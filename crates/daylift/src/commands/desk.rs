//! `daylift desk`.

use daylift_desk::{Options, Starter, serve};

use super::unusable;
use crate::args::DeskArgs;
use crate::examples;
use crate::exit::{DONE, Exit};

pub(crate) fn desk(args: DeskArgs) -> Exit {
    let options = Options {
        open: args.plant,
        port: args.port,
        starter: Starter {
            examples: examples::names,
            start: super::new::start,
        },
    };
    let ready = |page: &str| {
        eprintln!("The page is open at {page}\nIt is reachable from this machine only. Press Ctrl+C to close it.");
        if !args.no_open && open::that_detached(page).is_err() {
            eprintln!("Could not start a browser; open this address in a browser.");
        }
    };
    match serve(&options, ready) {
        Ok(()) => DONE,
        Err(why) => unusable(&why),
    }
}
