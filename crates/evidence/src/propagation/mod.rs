//! How uncertainty of inputs becomes uncertainty of a result.
//!
//! [`evaluate`] is the one way in: the same inputs and model, and a [`Method`]. First order is quick and says which
//! input matters; Monte Carlo is right where the model bends, stops or refuses within the spread of its inputs.
//! [`agreement`] says whether the quick one would have done, [`second_order`] how much a bend adds, and [`what_if`]
//! which measurement to better. The parts can be called alone: [`first_order`] and [`monte_carlo`].

mod correlation;
pub(crate) mod draw;
mod error;
mod evaluate;
pub(crate) mod first_order;
mod monte_carlo;
mod sample;
mod second_order;
mod what_if;

pub use correlation::Correlation;
pub use error::PropagationError;
pub use evaluate::{Agreement, Evaluation, Kind, Method, agreement, evaluate, evaluate_many};
pub use first_order::{Budget, Contribution, Joint, first_order, first_order_many};
pub use monte_carlo::{MOST_DRAWS, monte_carlo, monte_carlo_correlated, monte_carlo_many};
pub use sample::{Interval, Sample};
pub use second_order::{SecondOrder, second_order};
pub use what_if::{Bettered, what_if, what_if_many};
