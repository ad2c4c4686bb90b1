//! The page in a browser: a server on loopback that opens the plants of one folder, answers the requests of the page and
//! saves what the user changes there.
//!
//! The desk computes nothing itself: every number comes from `study`. It remembers what earlier answers computed, so that
//! the next answer comes while a slider is still moving. It reads and writes only below the opened folder, and never
//! overwrites a file that has changed since the page read it.
//!
//! [`serve`] runs the server. A program that needs no page can open a [`Desk`] and ask it directly. Here a farm tries a
//! bigger tank; its plant file stays as it is:
//!
//! ```
//! use daylift_desk::api::{AnswerRequest, Change, InputValue, Turn};
//! use daylift_desk::{Desk, Options, Starter};
//!
//! let no_examples = Starter { examples: Vec::new, start: |_, _| Err("there are no examples".to_owned()) };
//! let open = "../../examples/tamarind-post".into();
//! let desk = Desk::open(&Options { open, port: 0, starter: no_examples }, 7420)?;
//!
//! let bigger_tank = Change {
//!     file: "plant.toml".to_owned(),
//!     keys: "tank.capacity_m3".to_owned(),
//!     value: Some(InputValue::Number(60.0)),
//! };
//! let request = AnswerRequest {
//!     plant: "plant.toml".to_owned(),
//!     changes: vec![bigger_tank],
//!     looked_at: None,
//!     brief: false,
//!     turn: Turn { page: "example".to_owned(), number: 1 },
//! };
//! let answer = desk.answer(&request).map_err(|refusal| refusal.why)?;
//!
//! let inputs = answer.inputs.unwrap_or_default();
//! let tank = inputs.iter().find(|input| input.keys == "tank.capacity_m3");
//! assert_eq!(tank.and_then(|tank| tank.value.clone()), Some(InputValue::Number(60.0)));
//! // Today's way and what it is compared with.
//! assert!(answer.rows.len() > 1);
//! # Ok::<(), String>(())
//! ```

mod answer;
pub mod api;
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
mod upload;
mod wanted;

use std::fmt;
use std::net::{Ipv4Addr, SocketAddr};
use std::path::{Path, PathBuf};

pub use server::{Desk, router};

/// Options of a desk.
#[derive(Debug, Clone)]
pub struct Options {
    /// Folder of a plant, a plant file, or a folder with plants below it.
    pub open: PathBuf,
    /// Port on loopback; 0 for any free port.
    pub port: u16,
    /// Worked examples that a new plant may start from.
    pub starter: Starter,
}

/// How to start a plant from a worked example.
#[derive(Clone, Copy)]
pub struct Starter {
    /// Names of the examples.
    pub examples: fn() -> Vec<String>,
    /// Makes a new folder from an example. Returns the number of its files, or why it cannot be made.
    pub start: fn(&Path, &str) -> Result<usize, String>,
}

impl fmt::Debug for Starter {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Starter")
    }
}

/// Serves until the process receives an interrupt. Calls `ready` with the address of the page when the server listens.
///
/// # Errors
/// When the page was not built in, the port is in use, or the folder cannot be opened; the text says why.
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
        let served = axum::serve(listener, router(desk)).with_graceful_shutdown(end_signal());
        ready(&page);
        served.await.map_err(|e| e.to_string())
    })
}

async fn end_signal() {
    // Without a signal handler, the signal ends the process.
    if tokio::signal::ctrl_c().await.is_err() {
        std::future::pending::<()>().await;
    }
}
