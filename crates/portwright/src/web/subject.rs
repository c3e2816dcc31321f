//! What a page is about: a job card as it stands, or a result as it was kept. Its address says which.

use super::refusal::Refusal;
use super::{App, work};
use crate::card_key::{Shelf, shelf_of};
use crate::shelf::Kept;
use axum::extract::FromRequestParts;
use axum::http::request::Parts;
use record::{BuildId, EngineId, Field, Owner, RecordError, ResultId, ResultLine, VisitId, VisitPlace};
use std::collections::BTreeMap;
use std::sync::Arc;

/// A job card with everything that was entered for it and for its build.
pub(super) struct Card {
    /// The job card and what it stands in.
    pub(super) place: VisitPlace,
    /// Every field of the engine, of the build and of the job card, with its version.
    pub(super) fields: BTreeMap<String, Field>,
}

impl Card {
    /// Takes it from the record.
    ///
    /// # Errors
    /// Those of the record.
    pub(super) fn open(app: &App, id: VisitId) -> Result<Self, RecordError> {
        let place = app.record.visit(id)?;
        let mut fields = app.record.fields(place.engine.id.into())?;
        fields.extend(app.record.fields(place.build.id.into())?);
        fields.extend(app.record.fields(id.into())?);
        Ok(Self { place, fields })
    }

    /// The texts alone.
    pub(super) fn texts(&self) -> BTreeMap<String, String> {
        self.fields.iter().map(|(key, field)| (key.clone(), field.text.clone())).collect()
    }

    /// The texts that an engine file can hold.
    pub(super) fn file_texts(&self) -> BTreeMap<String, String> {
        let mut texts = self.texts();
        texts.retain(|key, _| engine::file::fields::Field::named(key).is_some());
        texts
    }

    /// What a field belongs to; none when no field is called so.
    pub(super) fn owner(&self, key: &str) -> Option<Owner> {
        Some(match shelf_of(key)? {
            Shelf::Engine => self.place.engine.id.into(),
            Shelf::Build => self.place.build.id.into(),
            Shelf::Visit => self.place.visit.id.into(),
        })
    }

    /// The text of a field; empty when there is none.
    pub(super) fn text(&self, key: &str) -> &str {
        self.fields.get(key).map_or("", |field| field.text.as_str())
    }

    /// Address of its pages, without a slash at the end.
    pub(super) fn base(&self) -> String {
        base_of(self.place.visit.id)
    }
}

/// Address of a job card's pages, without a slash at the end.
pub(super) fn base_of(visit: VisitId) -> String {
    format!("/visit/{visit}")
}

/// What pages with an answer are about.
pub(super) struct Subject {
    /// Address of its pages, without a slash at the end.
    pub(super) base: String,
    /// The job card.
    pub(super) place: VisitPlace,
    /// What was read of it.
    pub(super) kept: Arc<Kept>,
    /// The kept result, when it is one.
    pub(super) result: Option<ResultLine>,
}

impl Subject {
    fn open(app: &App, path: &str) -> Result<Self, Refusal> {
        let mut parts = path.trim_start_matches('/').split('/');
        let (kind, number) = (parts.next().unwrap_or_default(), parts.next().unwrap_or_default());
        let number: i64 = number.parse().map_err(|_| Refusal::no_page())?;
        if kind == "result" {
            return Self::of_result(app, ResultId(number));
        }
        let card = Card::open(app, VisitId(number))?;
        let base = card.base();
        match app.shelf.fields(&card.file_texts()) {
            Ok(kept) => Ok(Self { base, place: card.place, kept, result: None }),
            Err(problems) => Err(Refusal::not_whole(problems.len(), &base)),
        }
    }

    fn of_result(app: &App, id: ResultId) -> Result<Self, Refusal> {
        let result = app.record.result(id)?;
        let place = app.record.visit(result.line.visit)?;
        let kept = app.shelf.file(&result.inputs_text).map_err(|_| Refusal::no_longer_read())?;
        Ok(Self { base: format!("/result/{id}"), place, kept, result: Some(result.line) })
    }
}

impl FromRequestParts<Arc<App>> for Subject {
    type Rejection = Refusal;

    async fn from_request_parts(parts: &mut Parts, app: &Arc<App>) -> Result<Self, Refusal> {
        let (app, path) = (Arc::clone(app), parts.uri.path().to_owned());
        work(move || Self::open(&app, &path)).await?
    }
}

/// Engine, build or job card, by the beginning of an address.
pub(super) struct Named(pub(super) Owner);

impl FromRequestParts<Arc<App>> for Named {
    type Rejection = Refusal;

    async fn from_request_parts(parts: &mut Parts, _: &Arc<App>) -> Result<Self, Refusal> {
        let mut path = parts.uri.path().trim_start_matches('/').split('/');
        let (kind, number) = (path.next().unwrap_or_default(), path.next().unwrap_or_default());
        let number: i64 = number.parse().map_err(|_| Refusal::no_page())?;
        match kind {
            "engine" => Ok(Self(EngineId(number).into())),
            "build" => Ok(Self(BuildId(number).into())),
            "visit" => Ok(Self(VisitId(number).into())),
            _ => Err(Refusal::no_page()),
        }
    }
}
