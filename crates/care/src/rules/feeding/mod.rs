//! Meals: what lies inside, what came up, what was refused, and what stands against the next one.

mod after_meal;
mod brumation;
mod during_hold;
mod gravid;
mod plans;
mod prey_quality;
mod ration;
mod refusals;
mod regurgitation;
mod starters;
mod too_little;

pub use plans::hold as plan_hold;
pub use regurgitation::rested_from;

use super::Rule;

/// The rules of this group, in the order in which they run.
pub const LIST: &[Rule] = &[
    after_meal::RULE,
    regurgitation::RULE,
    regurgitation::FED_EARLY,
    brumation::RULE,
    gravid::RULE,
    gravid::BROODING,
    plans::RULE,
    during_hold::RULE,
    refusals::RULE,
    starters::RULE,
    prey_quality::SIZE,
    prey_quality::LIVE,
    prey_quality::WARMTH,
    prey_quality::THAWING,
    prey_quality::LEFT,
    prey_quality::OLD,
    prey_quality::UNCONFIRMED,
    ration::RULE,
    too_little::STEP_UP,
    too_little::RATION_LOW,
];
