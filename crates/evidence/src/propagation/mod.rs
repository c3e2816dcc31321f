//! How uncertainty of inputs becomes uncertainty of a result.
//!
//! First order ([`first_order`]) is quick and says which input matters; Monte Carlo ([`monte_carlo`]) is right
//! where the model bends, stops or refuses within the spread of its inputs. Both take the same inputs and model.

mod correlation;
pub(crate) mod draw;
mod error;
pub(crate) mod first_order;
mod monte_carlo;
mod sample;

pub use correlation::Correlation;
pub use error::PropagationError;
pub use first_order::{Budget, Contribution, Joint, first_order, first_order_many};
pub use monte_carlo::{MOST_DRAWS, monte_carlo, monte_carlo_many};
pub use sample::{Interval, Sample};
