//! The page in a browser: a server on loopback that answers what the page asks.
//!
//! It reads plants below one opened folder and computes nothing itself: every number is `study`'s. It keeps what earlier
//! answers computed, so that the next one comes while a slider is still moving.

mod answer;
pub mod api;
mod bring;
mod choose;
pub mod description;
mod folder;
mod guard;
mod inputs;
mod page;
mod refused;
mod save;
mod server;
mod stamp;
mod turns;
mod wanted;

use std::fmt;
use std::net::{Ipv4Addr, SocketAddr};
use std::path::{Path, PathBuf};

pub use server::{Desk, router};

/// What a desk is opened with.
#[derive(Debug, Clone)]
pub struct Options {
    /// Folder of a plant, its plant file, or a folder below which plants lie.
    pub open: PathBuf,
    /// Port on loopback; 0 for any that is free.
    pub port: u16,
    /// Worked examples that a new plant may start from.
    pub starter: Starter,
}

/// How a plant is started from a worked example.
#[derive(Clone, Copy)]
pub struct Starter {
    /// Names of the examples.
    pub examples: fn() -> Vec<String>,
    /// Makes a new folder from an example; gives how many files it has, or why not.
    pub start: fn(&Path, &str) -> Result<usize, String>,
}

impl fmt::Debug for Starter {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Starter")
    }
}

/// Serves until the process is told to end; `ready` hears the page's address.
///
/// # Errors
/// Why it cannot be served, in words.
pub fn serve(options: &Options, ready: impl FnOnce(&str)) -> Result<(), String> {
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .enable_all()
        .build()
        .map_err(|e| e.to_string())?;
    runtime.block_on(async {
        if !page::is_built() {
            return Err(
                "this program was built without its page; install Node.js 20 or newer with npm and build again"
                    .to_owned(),
            );
        }
        let wanted = SocketAddr::from((Ipv4Addr::LOCALHOST, options.port));
        let listener = tokio::net::TcpListener::bind(wanted)
            .await
            .map_err(|e| format!("cannot listen on {wanted}: {e}; give another --port, or 0 for any free port"))?;
        let address = listener.local_addr().map_err(|e| e.to_string())?;
        let desk = Desk::open(options, address.port())?;
        let page = format!("http://{address}/{}", desk.first_view());
        let served = axum::serve(listener, router(desk)).with_graceful_shutdown(told_to_end());
        ready(&page);
        served.await.map_err(|e| e.to_string())
    })
}

async fn told_to_end() {
    // Without a signal handler the process simply ends at the signal.
    if tokio::signal::ctrl_c().await.is_err() {
        std::future::pending::<()>().await;
    }
}
