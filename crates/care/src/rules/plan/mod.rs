//! What is due and what comes next.

mod next_meal;
mod round_plans;
mod stock;
mod weigh;

pub use next_meal::{NextMeal, next_meal, retry_d};

use super::Rule;

/// The rules of this group, in the order in which they run.
pub const LIST: &[Rule] = &[next_meal::RULE, next_meal::NOT_BEFORE, weigh::WEIGH, weigh::MEASURE, stock::RULE];
