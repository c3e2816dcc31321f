//! What is due: cleaning and cable checks by hours, distance, season and use, and by what the engine's own history
//! has shown.
//!
//! [`Tasks`] are data; [`Plan`] is what the user says of one engine (use, oil, season, own intervals); [`History`] is
//! what was done and how it was found, from the texts of its job cards; [`due`] says what is due now. Hours are those
//! of the engine, distances in km, days are civil dates ([`Day`]): there is no clock here.

mod counter;
mod day;
mod due;
mod history;
mod learning;
mod now;
mod plan;
mod season;
mod task;

pub use day::{Day, DayError};
pub use due::{Due, DueState, Lead, Now, SOON, due};
pub use history::{Done, EntryProblem, Found, History, Visit};
pub use learning::{LEAST, LENGTHEN, Learned, MOST, SHORTEN};
pub use plan::{OwnInterval, Plan};
pub use season::Season;
pub use task::{Every, SeasonTurn, Task, Tasks, Use};
