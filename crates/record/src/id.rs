//! Numbers of the rows, one type for each table, so that a job card is never taken for a build.

use rusqlite::types::{FromSql, FromSqlResult, ToSql, ToSqlOutput, ValueRef};
use serde::{Deserialize, Serialize};
use std::fmt;

macro_rules! ids {
    ($($(#[$meta:meta])* $name:ident)*) => {$(
        $(#[$meta])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[serde(transparent)]
        pub struct $name(pub i64);

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                self.0.fmt(f)
            }
        }

        impl ToSql for $name {
            fn to_sql(&self) -> rusqlite::Result<ToSqlOutput<'_>> {
                self.0.to_sql()
            }
        }

        impl FromSql for $name {
            fn column_result(value: ValueRef<'_>) -> FromSqlResult<Self> {
                i64::column_result(value).map(Self)
            }
        }
    )*};
}

ids! {
    /// Number of an engine in this record file.
    EngineId
    /// Number of a build: one state of an engine's top end.
    BuildId
    /// Number of a job card: one visit of one build.
    VisitId
    /// Number of a kept result.
    ResultId
    /// Number of a picture.
    PictureId
}

/// What fields belong to, and what can be renamed and deleted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", tag = "kind", content = "id")]
pub enum Owner {
    /// The engine as a whole.
    Engine(EngineId),
    /// A build; its fields describe the engine.
    Build(BuildId),
    /// A job card; its fields are what was found, the gates, the return values and notes.
    Visit(VisitId),
}

impl Owner {
    /// Name of the table, which is also the `owner_kind` of its fields.
    pub(crate) fn table(self) -> &'static str {
        match self {
            Owner::Engine(_) => "engine",
            Owner::Build(_) => "build",
            Owner::Visit(_) => "visit",
        }
    }

    /// The row's number.
    pub(crate) fn number(self) -> i64 {
        match self {
            Owner::Engine(id) => id.0,
            Owner::Build(id) => id.0,
            Owner::Visit(id) => id.0,
        }
    }

    /// The word for it in a sentence.
    pub(crate) fn word(self) -> &'static str {
        match self {
            Owner::Engine(_) => "engine",
            Owner::Build(_) => "build",
            Owner::Visit(_) => "job card",
        }
    }
}

impl From<EngineId> for Owner {
    fn from(id: EngineId) -> Self {
        Owner::Engine(id)
    }
}

impl From<BuildId> for Owner {
    fn from(id: BuildId) -> Self {
        Owner::Build(id)
    }
}

impl From<VisitId> for Owner {
    fn from(id: VisitId) -> Self {
        Owner::Visit(id)
    }
}
