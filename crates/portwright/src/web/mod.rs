//! The local web app: pages made here, small scripts of our own, nothing from elsewhere.

mod assets;
mod choices;
mod edit;
mod guard;
mod help;
mod icon;
mod intake;
mod moving;
mod page;
mod refusal;
mod setting;
mod sheet;
mod take;

pub(crate) use sheet::standing_document;

use crate::shelf::{Kept, MemoryShelf, Shelf};
use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::middleware::from_fn_with_state;
use axum::routing::{get, post};
use refusal::Refusal;
use std::io;
use std::net::{Ipv4Addr, SocketAddr};
use std::sync::Arc;
use tokio::net::TcpListener;

/// Largest upload that is taken, in bytes.
const LARGEST_UPLOAD: usize = 1_000_000;

/// What every page can reach.
pub struct App {
    shelf: Box<dyn Shelf>,
    port: u16,
}

impl App {
    /// An app with an empty memory shelf that answers for this port only.
    pub fn new(port: u16) -> Self {
        Self { shelf: Box::new(MemoryShelf::default()), port }
    }

    fn find(&self, id: &str) -> Result<Arc<Kept>, Refusal> {
        self.shelf.find(id).ok_or_else(Refusal::no_engine)
    }
}

/// All addresses of the app.
pub fn router(app: Arc<App>) -> Router {
    Router::new()
        .route("/", get(setting::show_start))
        .route("/engine", post(intake::take_engine).get(intake::to_start))
        .route("/engine/{id}", get(setting::show_engine))
        .route("/engine/{id}/edit", get(edit::show_editor))
        .route("/engine/{id}/file", get(take::engine_file))
        .route("/engine/{id}/returns.toml", get(take::returns_file))
        .route("/engine/{id}/report.json", get(take::report_json))
        .route("/engine/{id}/drawing", get(moving::show_fragment))
        .route("/engine/{id}/sheet", get(sheet::show_sheet))
        .route("/engine/{id}/sheet.pdf", get(sheet::sheet_pdf))
        .route("/help", get(help::show_help))
        .route("/assets/{name}", get(assets::serve))
        .fallback(|| async { Refusal::no_page() })
        .method_not_allowed_fallback(|| async { Refusal::wrong_method() })
        // Room for the form's own bytes; the file in it is measured where it is read.
        .layer(DefaultBodyLimit::max(LARGEST_UPLOAD + 16_384))
        .layer(from_fn_with_state(Arc::clone(&app), guard::check))
        .layer(axum::middleware::from_fn(choices::carry))
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

    /// Serves pages until Ctrl-C.
    ///
    /// # Errors
    /// When the socket fails.
    pub async fn serve(self) -> io::Result<()> {
        let app = Arc::new(App::new(self.port()));
        let stop = async {
            if tokio::signal::ctrl_c().await.is_err() {
                // No signal can be heard: stay until the process is ended.
                std::future::pending::<()>().await;
            }
        };
        axum::serve(self.listener, router(app)).with_graceful_shutdown(stop).await
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
