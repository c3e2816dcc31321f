//! Which address is whose, one function an area.

use super::{App, change, edit, form, intake, list, moving, path, results, setting, sheet, take};
use axum::Router;
use axum::routing::{get, post};
use std::sync::Arc;

/// The list of engines, and what is made, named, deleted and brought back.
pub(super) fn of_the_list() -> Router<Arc<App>> {
    let router = ["/engine", "/build", "/visit"].into_iter().fold(Router::new(), |router, kind| {
        router
            .route(&format!("{kind}/{{id}}/rename"), post(change::rename))
            .route(&format!("{kind}/{{id}}/delete"), post(change::delete))
            .route(&format!("{kind}/{{id}}/undelete"), post(change::undelete))
    });
    router
        .route("/", get(list::show_list))
        .route("/engine", post(intake::take_engine).get(intake::to_start))
        .route("/engine/new", post(change::new_engine).get(intake::to_start))
        .route("/engine/{id}", get(path::show_engine))
        .route("/engine/{id}/build", post(change::new_build))
        .route("/build/{id}/visit", post(change::new_visit))
}

/// The path of a job card, its forms and its text.
pub(super) fn of_job_cards() -> Router<Arc<App>> {
    Router::new()
        .route("/visit/{id}", get(path::show_visit))
        .route("/visit/{id}/step/{step}", get(form::show_form).post(form::save::save_form))
        .route("/visit/{id}/sketch", get(form::sketch::show_sketch))
        .route("/visit/{id}/field", post(form::save::save_one))
        .route("/visit/{id}/entries", post(form::save::save_entries))
        .route("/visit/{id}/ports", post(form::ports::change_ports))
        .route("/visit/{id}/sure", post(form::save::confirm))
        .route("/visit/{id}/returns/keep", post(form::save::keep_returns))
        .route("/visit/{id}/keep", post(results::keep_answer))
        .route("/visit/{id}/edit", get(edit::show_editor).post(edit::save_text))
        .route("/visit/{id}/file", get(take::engine_file))
        .route("/visit/{id}/returns.toml", get(take::returns_file))
}

/// Answers, of job cards as they stand and of kept results alike.
pub(super) fn of_answers() -> Router<Arc<App>> {
    ["/visit", "/result"]
        .into_iter()
        .fold(Router::new(), |router, kind| {
            router
                .route(&format!("{kind}/{{id}}/setting"), get(setting::show_setting))
                .route(&format!("{kind}/{{id}}/drawing"), get(moving::show_fragment))
                .route(&format!("{kind}/{{id}}/sheet"), get(sheet::show_sheet))
                .route(&format!("{kind}/{{id}}/sheet.pdf"), get(sheet::sheet_pdf))
                .route(&format!("{kind}/{{id}}/report.json"), get(take::report_json))
        })
        .route("/result/{id}", get(results::to_answer))
}
