//! The local web app: pages made here, small scripts of our own, nothing from elsewhere.

mod assets;
pub(crate) mod bench;
mod change;
mod choices;
mod compare;
mod edit;
mod fitting;
mod form;
mod guard;
mod help;
mod icon;
mod intake;
mod list;
mod moment;
mod moving;
mod page;
mod path;
pub(crate) mod pictures;
mod power;
pub(crate) mod procedures;
mod refusal;
mod results;
mod routes;
mod setting;
mod sheet;
mod subject;
mod take;

pub(crate) use sheet::standing_document;

use crate::procedures::Compared;
use crate::shelf::Shelf;
use crate::torque_map::Jobs;
use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::middleware::from_fn_with_state;
use axum::routing::get;
use choices::Choices;
use list::Stages;
use record::{EngineFilter, Record, RecordError};
use refusal::Refusal;
use std::io;
use std::net::{Ipv4Addr, SocketAddr};
use std::sync::{Arc, Mutex, PoisonError};
use tokio::net::TcpListener;

/// Largest upload that is taken, in bytes.
const LARGEST_UPLOAD: usize = 1_000_000;

/// What every page can reach.
pub struct App {
    record: Record,
    shelf: Shelf,
    choices: Mutex<Choices>,
    stages: Stages,
    compared: Compared,
    maps: Jobs,
    port: u16,
}

impl App {
    /// An app on this record that answers for this port only. An empty record gets the invented demo engine.
    ///
    /// # Errors
    /// A sentence, when the record cannot be used.
    pub fn new(port: u16, record: Record) -> Result<Self, RecordError> {
        let choices = Mutex::new(choices::remembered(&record)?);
        let app = Self {
            record,
            shelf: Shelf::default(),
            choices,
            stages: Stages::default(),
            compared: Compared::default(),
            maps: Jobs::default(),
            port,
        };
        if app.record.choice(BEGUN)?.is_none() {
            if app.record.engines(&EngineFilter::default())?.is_empty() && app.record.deleted()?.is_empty() {
                intake::add_demo(&app)?;
            }
            app.record.set_choice(BEGUN, "yes")?;
        }
        Ok(app)
    }

    fn choices(&self) -> Choices {
        *self.choices.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn set_choices(&self, choices: Choices) {
        *self.choices.lock().unwrap_or_else(PoisonError::into_inner) = choices;
    }
}

/// Set once the demo engine was put in: whoever removed it does not want it back.
const BEGUN: &str = "begun";

/// All addresses of the app.
pub fn router(app: Arc<App>) -> Router {
    Router::new()
        .merge(routes::of_the_list())
        .merge(routes::of_job_cards())
        .merge(routes::of_answers())
        .merge(compare::routes())
        .merge(pictures::routes())
        .merge(bench::routes())
        .merge(procedures::routes())
        .merge(power::routes())
        .merge(fitting::routes())
        .route("/help", get(help::show_help))
        .route("/assets/{name}", get(assets::serve))
        .fallback(|| async { Refusal::no_page() })
        .method_not_allowed_fallback(|| async { Refusal::wrong_method() })
        // Room for the form's own bytes; the file in it is measured where it is read.
        .layer(DefaultBodyLimit::max(LARGEST_UPLOAD + 16_384))
        .layer(from_fn_with_state(Arc::clone(&app), guard::check))
        .layer(from_fn_with_state(Arc::clone(&app), choices::carry))
        .with_state(app)
}

/// A port that is listened on, before the first visitor comes in.
pub struct Door {
    listener: TcpListener,
    at: SocketAddr,
}

impl Door {
    /// Listens on 127.0.0.1 at `port`; on any free one when it is taken or 0.
    ///
    /// # Errors
    /// When no port can be listened on at all.
    pub async fn open(port: u16) -> io::Result<Self> {
        let listener = match TcpListener::bind((Ipv4Addr::LOCALHOST, port)).await {
            Ok(listener) => listener,
            Err(_) => TcpListener::bind((Ipv4Addr::LOCALHOST, 0)).await?,
        };
        let at = listener.local_addr()?;
        Ok(Self { listener, at })
    }

    /// The port that is listened on.
    pub fn port(&self) -> u16 {
        self.at.port()
    }

    /// The address to open in a browser.
    pub fn address(&self) -> String {
        format!("http://{}/", self.at)
    }

    /// Serves pages until Ctrl-C. `app` must have been made for this port.
    ///
    /// # Errors
    /// When the socket fails.
    pub async fn serve(self, app: App) -> io::Result<()> {
        let app = Arc::new(app);
        let stop = async {
            if tokio::signal::ctrl_c().await.is_err() {
                // No signal can be heard: stay until the process is ended.
                std::future::pending::<()>().await;
            }
        };
        let served = axum::serve(self.listener, router(Arc::clone(&app))).with_graceful_shutdown(stop).await;
        // Maps in the making end with the program, after the turns they are at.
        app.maps.stop_all();
        served
    }
}

/// Does work that takes a moment where it does not hold up other pages.
async fn work<T: Send + 'static>(task: impl FnOnce() -> T + Send + 'static) -> Result<T, Refusal> {
    tokio::task::spawn_blocking(task).await.map_err(|error| {
        tracing::error!("a page could not be worked out: {error}");
        Refusal::broken()
    })
}

#[cfg(test)]
mod tests;
